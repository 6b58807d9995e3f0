"""Names of style and scripts that change with their content, also where one script imports another."""

from __future__ import annotations

from django.contrib.staticfiles.storage import HashedFilesMixin
from whitenoise.storage import CompressedManifestStaticFilesStorage  # type: ignore[import-untyped]

_ANY, _IMPORTS = HashedFilesMixin._js_module_import_aggregation_patterns  # type: ignore[attr-defined]


class StaticNames(CompressedManifestStaticFilesStorage):  # type: ignore[misc]
    """A page never runs a new script of ours with an old one that it imports.

    Scripts of others are left as they are: they may name files that are not there.
    """

    patterns = (*HashedFilesMixin.patterns, ("barwise/*.js", _IMPORTS))
