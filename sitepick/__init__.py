"""sitepick: where a small unit on foot, snowshoes or skis stops tonight, and how it camps there."""

__version__ = "0.1.0"
