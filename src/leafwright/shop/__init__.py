"""The shop: what is cut, and what it is cut from."""
