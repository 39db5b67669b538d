"""The typed model of a homestead, its TOML file and the checks by arithmetic."""

from noonmark.design.file import DesignFile, load_design, parse_design
from noonmark.design.model import Building, Homestead

__all__ = ["Building", "DesignFile", "Homestead", "load_design", "parse_design"]
