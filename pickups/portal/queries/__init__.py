"""What the customer's pages show: the list of theirs, and the story of one."""
