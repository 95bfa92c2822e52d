"""The order desk as pure values: quotes, orders, stock, cut lists, labels, prices."""
