"""The store that needs nothing else: a folder with one readable file a unit."""

from .log import FolderLog
from .photos import FolderPhotos

__all__ = ["FolderLog", "FolderPhotos"]
