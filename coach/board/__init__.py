"""Who stands where: the strands in order and what each step does to them."""
