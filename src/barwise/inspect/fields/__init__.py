"""Field coils: is one open, shorted, badly joined or grounded, which one, and what could be missed."""

from barwise.inspect.fields.assessment import FrameAnswer, assess
from barwise.inspect.fields.ground import locate_ground

__all__ = ["FrameAnswer", "assess", "locate_ground"]
