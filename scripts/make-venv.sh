#!/usr/bin/env bash
# make-venv.sh FOLDER: a virtual environment with pip in it, on a machine that may lack python3-venv.
set -eu
here=$(dirname "$0")
python=$("$here/find-python.sh")
if ! "$python" -c 'import ensurepip, venv' 2>/dev/null; then
    version=$("$python" -c 'import sys; print("python%d.%d" % sys.version_info[:2])')
    "$here/install-debian.sh" "$version-venv"
fi
"$python" -m venv "$1"
