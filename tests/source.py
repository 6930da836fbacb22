"""The program's own source, parsed once for all tests that look at it."""

import ast
from functools import cache
from pathlib import Path
from typing import Final

PACKAGE: Final = Path(__file__).parent.parent / "prepadvisor"


@cache
def trees() -> dict[str, ast.Module]:
    """Return every module of the package, parsed, by its path inside it."""
    return {
        path.relative_to(PACKAGE).as_posix(): ast.parse(path.read_text("utf-8"))
        for path in sorted(PACKAGE.rglob("*.py"))
    }
