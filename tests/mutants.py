"""What a run of mutmut left alive, by function: `python -m tests.mutants > tests/mutants.txt`.

A mutant that only changes the words of a sentence is counted, not named: words are held by the
goldens, which mutmut does not run. Results that a function keeps (`lru_cache`) outlive the fork
that mutmut tries a mutant in, so mutants of such functions are named although tests would fail.
"""

from __future__ import annotations

import ast
import re
import subprocess
import sys
from collections import Counter, defaultdict
from pathlib import Path

MUTANTS = Path("mutants")
LINE = re.compile(r"\s*(?P<module>[\w.]+)\.(?P<name>x\S+)__mutmut_(?P<nth>\d+): (?P<fate>.+)")


class _Wordless(ast.NodeTransformer):
    """Every text is the same text."""

    def visit_Constant(self, node: ast.Constant) -> ast.Constant:
        return ast.Constant("") if node.value is None or isinstance(node.value, str) else node

    def visit_JoinedStr(self, _node: ast.JoinedStr) -> ast.Constant:
        return ast.Constant("")


def _bodies(module: str) -> dict[str, str]:
    """Each function of a mutated module by its name, without its words."""
    tree = ast.parse((MUTANTS / f"{module.replace('.', '/')}.py").read_text())
    found = {}
    for node in ast.walk(tree):
        if isinstance(node, ast.FunctionDef):
            found[node.name] = ast.dump(ast.Module(_Wordless().visit(node).body, []))
    return found


def report(results: str) -> list[str]:
    """The score, and the surviving mutants of each function that change more than words."""
    fates: Counter[str] = Counter()
    alive: dict[str, dict[str, list[str]]] = defaultdict(lambda: defaultdict(list))
    words = 0
    bodies: dict[str, dict[str, str]] = {}
    for line in results.splitlines():
        found = LINE.fullmatch(line)
        if found is None:
            continue
        module, name, nth, fate = found.groups()
        fates[fate] += 1
        if fate != "survived":
            continue
        if module not in bodies:
            bodies[module] = _bodies(module)
        ours = bodies[module]
        if ours[f"{name}__mutmut_{nth}"] == ours[f"{name}__mutmut_orig"]:
            words += 1
        else:
            alive[module][re.sub(r"^x_|^xǁ", "", name).replace("ǁ", ".")].append(nth)
    lines = [", ".join(f"{count} {fate}" for fate, count in fates.most_common())]
    lines.append(f"of those that survived {words} change words alone; the others:")
    for module, functions in sorted(alive.items()):
        lines.append(module)
        lines += [f"  {name}: {' '.join(nths)}" for name, nths in sorted(functions.items())]
    return lines


if __name__ == "__main__":
    command = [sys.executable, "-m", "mutmut", "results", "--all", "true"]
    shown = subprocess.run(command, capture_output=True, text=True, check=True).stdout
    sys.stdout.write("\n".join(report(shown)) + "\n")
