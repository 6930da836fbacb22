"""The model of the screens stands without the screen library."""

import subprocess
import sys
from pathlib import Path

import prepadvisor.tui.model

_MODULES = sorted(
    path.stem for path in Path(prepadvisor.tui.model.__path__[0]).glob("*.py") if path.stem[0] != "_"
)


def test_no_module_of_the_model_loads_textual() -> None:
    """In a fresh interpreter, all of them together load neither textual nor rich."""
    imports = "; ".join(f"import prepadvisor.tui.model.{name}" for name in _MODULES)
    code = f"import sys; {imports}; print(sorted({{'textual', 'rich'}} & set(sys.modules)))"
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout.strip() == "[]"
