"""The job: what it may hold (`model`), and its file (`file`)."""
