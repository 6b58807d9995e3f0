#!/usr/bin/env bash
# install-debian.sh PACKAGE...: install Debian packages where this user may, else say what to install.
set -u
if [ "$(id -u)" = 0 ]; then
    as_root=()
elif command -v sudo >/dev/null && sudo -n true 2>/dev/null; then
    as_root=(sudo -n)
else
    as_root=(false)
fi
if command -v apt-get >/dev/null && [ "${as_root[*]:-}" != false ]; then
    echo "Installing $* ..."
    "${as_root[@]}" apt-get update -qq &&
        "${as_root[@]}" env DEBIAN_FRONTEND=noninteractive apt-get install -y -qq --no-install-recommends "$@" \
            >/dev/null && exit 0
fi
echo "Not installed, and it could not be installed from here: $*" >&2
echo "Ask whoever administers this machine for:  apt-get install $*" >&2
exit 1
