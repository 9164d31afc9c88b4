"""`python3 tests`: set up, then run every test. `python3 tests bench`: print the benchmarks;
`python3 tests published`: printed figures beside computed ones.

Further words go to pytest. This file parses on any Python, old ones too, so that it can say which is needed.
"""

import os
import sys

if sys.version_info < (3, 11):
    sys.stderr.write("Steelyard needs Python 3.11 or later; this is Python %d.%d.\n" % sys.version_info[:2])
    sys.exit(3)

sys.path.insert(0, os.path.join(os.path.dirname(os.path.dirname(os.path.abspath(__file__))), "web"))

from command.testing import main

if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
