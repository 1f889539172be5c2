"""The pages at the car: plain pages from a small server, with a script that keeps every tap until it is sent."""
