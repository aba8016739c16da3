"""The pages of the app, one module each. No scene imports another one; the director makes them."""
