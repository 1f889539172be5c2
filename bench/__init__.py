"""How long Putback takes, beside general solvers and as jobs grow. Start it with `scripts/bench`."""
