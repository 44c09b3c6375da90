"""On site: standing the leaf up, hanging it, and reading how it came out."""
