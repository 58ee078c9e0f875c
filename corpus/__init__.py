"""The project's own recipes with their labels, and the scripts that train and score from them."""
