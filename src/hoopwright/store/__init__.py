"""What the browser's server keeps: plans with every revision, results and jobs, in one SQLite file.

`Store(folder)` opens it; `backup` and `restore` copy it whole.
"""

from hoopwright.store.backup import backup, bring_back, restore
from hoopwright.store.beside_plan import LoggerFile
from hoopwright.store.database import StoreError
from hoopwright.store.jobs import Job
from hoopwright.store.keep import Store, usual_folder
from hoopwright.store.lists import OwnList
from hoopwright.store.plans import Saved, Stale

__all__ = [
    "Job",
    "LoggerFile",
    "OwnList",
    "Saved",
    "Stale",
    "Store",
    "StoreError",
    "backup",
    "bring_back",
    "restore",
    "usual_folder",
]
