#!/usr/bin/env bash
# Pin everything barwise installs, with hashes for every platform, into requirements/*.txt.
#
# The pins name no index: whoever installs decides where packages come from, and the hashes
# decide whether what came is what was pinned.
set -euo pipefail
cd "$(dirname "$0")/.."

venv=build/lock-venv
[ -x "$venv/bin/uv" ] || { "${PYTHON:-python3}" -m venv "$venv" && "$venv/bin/pip" install -q uv; }

pin() {
    "$venv/bin/uv" pip compile --quiet --universal --python-version 3.11 --fork-strategy fewest \
        --generate-hashes --no-header --no-annotate --upgrade "$@"
}

pin pyproject.toml --output-file requirements/runtime.txt
pin pyproject.toml --extra dev --extra instruments --constraints requirements/runtime.txt --output-file requirements/dev.txt
pin requirements/build.in --output-file requirements/build.txt

if grep -nE '://|^-' requirements/*.txt; then
    echo "lock: a pin names a host or an option (above); it must not." >&2
    exit 1
fi
