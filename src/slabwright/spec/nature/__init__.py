"""What a layer will be like: its water, sugar, fat, gel and heat, side by side."""
