"""A formula's text, read from its code: what is printed cannot drift from what is computed."""

from __future__ import annotations

import ast

_SIGNS: dict[type, tuple[str, int]] = {
    ast.Add: (" + ", 1),
    ast.Sub: (" − ", 1),
    ast.Mult: (" × ", 2),
    ast.Div: (" / ", 2),
    ast.Pow: ("^", 4),
}


def written(node: ast.expr, within: int = 0) -> str:
    """Write an expression of code as a person writes it.

    Parameters
    ----------
    node : ast.expr
        The expression [-].
    within : int
        How tightly the surroundings bind, to place brackets [-].

    Returns
    -------
    str
        Text with ×, − and ^ [-].

    Examples
    --------
    >>> written(ast.parse("0.5 * rho * (v - 1) ** 2", mode="eval").body)
    '0.5 × rho × (v − 1)^2'
    """
    if isinstance(node, ast.BinOp):
        sign, level = _SIGNS[type(node.op)]
        right = level + (isinstance(node.op, ast.Sub | ast.Div))
        left = level + isinstance(node.op, ast.Pow)
        text = f"{written(node.left, left)}{sign}{written(node.right, right)}"
        return f"({text})" if level < within else text
    if isinstance(node, ast.UnaryOp):
        return f"−{written(node.operand, 3)}"
    if isinstance(node, ast.Call):
        return f"{written(node.func)}({', '.join(written(a) for a in node.args)})"
    if isinstance(node, ast.Attribute):
        return node.attr
    if isinstance(node, ast.Name):
        return node.id
    if isinstance(node, ast.Constant):
        return str(node.value)
    return ast.unparse(node)
