#!/usr/bin/env bash
# Print the first Python of this machine that barwise runs on (3.11 or later), or say what to install.
set -u
for python in "${PYTHON:-}" python3 python3.14 python3.13 python3.12 python3.11; do
    [ -n "$python" ] || continue
    if "$python" -c 'import sys; sys.exit(sys.version_info < (3, 11))' 2>/dev/null; then
        command -v "$python"
        exit 0
    fi
done
echo "barwise needs Python 3.11 or later and found none. On Debian 12, Ubuntu 24.04 or later:" >&2
echo "    apt-get install python3 python3-venv" >&2
exit 1
