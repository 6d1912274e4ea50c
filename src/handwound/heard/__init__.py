"""What is heard of a driver, how loud it gets and where to put it: a file a question."""
