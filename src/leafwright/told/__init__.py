"""What the command line prints: a plan, and its parts, in the maker's words."""
