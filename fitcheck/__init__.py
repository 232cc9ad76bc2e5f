"""Does this kit fit this opening, what has to be cut, drilled and lifted, and who says so?"""
