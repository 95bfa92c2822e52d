"""What is printed for customers and pupils: the sheet of a quote, labels of cord, kits."""
