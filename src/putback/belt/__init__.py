"""Belt drives: pulleys, route, length, wrap, rotation, tension, wear."""
