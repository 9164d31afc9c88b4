"""`python3 web`: set up, build and serve the sketcher.

This file parses on any Python, old ones too, so that it can say which is needed.
"""

import sys

if sys.version_info < (3, 11):
    sys.stderr.write("Steelyard needs Python 3.11 or later; this is Python %d.%d.\n" % sys.version_info[:2])
    sys.exit(3)

from command.main import main

if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
