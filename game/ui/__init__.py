"""What the screen shows and the speaker says: thin, on pygame.

These three settings must stand before pygame is imported, so they stand here, where every module of the package begins.
"""

import os
import sys

sys.modules.setdefault("pkg_resources", None)  # type: ignore[arg-type]  # pygame would load it: 60 ms, unused
os.environ.setdefault("PYGAME_HIDE_SUPPORT_PROMPT", "1")
os.environ.setdefault("SDL_FRAMEBUFFER_ACCELERATION", "0")  # plain blits: soon on screen, little memory
