# SPDX-License-Identifier: GPL-3.0-or-later
# console.awk - the console blocks of a README, taken apart: command N into the file N.command, what is
# shown below it into N.shown.
function begin() { n++; command = n ".command"; shown = n ".shown"; printf "" > command; printf "" > shown }

/^```/ { inside = $0 == "```console"; more = 0; next }
!inside { next }
/^\$ / && !more { begin(); $0 = substr($0, 3); more = 1 }
more { print > command; more = /\\$/; next }
{ print > shown }
END { print n + 0 }
