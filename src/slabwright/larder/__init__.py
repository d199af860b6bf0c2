"""The larder: what every ingredient is made of, weighs and is called."""
