"""What is told of a plan, each part as one record: text, page, paper and JSON are made of these."""
