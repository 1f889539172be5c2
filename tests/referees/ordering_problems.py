"""Sequential ordering problems in the form of TSPLIB: every node once, some before others, least change.

The matrix says what going from one node (row) to another (column) costs; -1 says that the node of the column
comes before the node of the row. The path leads from the first node to the last.
"""

FORBIDDEN = -1


def read_ordering_problem(text: str) -> list[list[int]]:
    """The full matrix of a file; the first number of its section is the size once more."""
    section = text.split("EDGE_WEIGHT_SECTION")[1].split("EOF")[0].split()
    size, *numbers = map(int, section)
    if len(numbers) != size * size:
        raise ValueError(f"{size} nodes need {size * size} numbers, got {len(numbers)}")
    return [numbers[row * size : (row + 1) * size] for row in range(size)]


def as_core(name: str, matrix: list[list[int]]) -> dict:
    """A core problem of version 2: every node an item to bring to its one level, with a tool of its own.

    The change that a precedence forbids is never asked for, since its two nodes cannot follow each other so;
    it is given the largest number of the matrix, as the contract wants none below zero.
    """
    nodes = [str(node) for node in range(len(matrix))]
    largest = max(map(max, matrix))
    return {
        "core": 2,
        "name": name,
        "unit": {"time": "1", "cost": "1"},
        "rate": 1,
        "dims": [
            {
                "name": "tool",
                "values": nodes,
                "start": nodes[0],
                "change": [[largest if cost == FORBIDDEN else cost for cost in row] for row in matrix],
            }
        ],
        "items": {node: {"levels": 1, "goal": [1, 1]} for node in nodes},
        "ops": [_op(node, row) for node, row in zip(nodes, matrix, strict=True)],
    }


def _op(node: str, row: list[int]) -> dict:
    first = {str(other): [1, 1] for other, cost in enumerate(row) if cost == FORBIDDEN}
    way = {"needs": first, "in": {"tool": [node]}}
    return {"id": f"do {node}", "item": node, "dir": "out", "level": 1, "time": 0, "ways": [way]}
