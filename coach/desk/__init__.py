"""The order desk as it is kept: orders and their pieces, boxes ticked off, files to carry."""
