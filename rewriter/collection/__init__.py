"""The recipe box: one file that holds a family's recipes, their bakes and what came of them."""
