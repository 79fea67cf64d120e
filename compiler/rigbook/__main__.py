"""`python -m rigbook`."""

import sys

from rigbook.cli import main

sys.exit(main())
