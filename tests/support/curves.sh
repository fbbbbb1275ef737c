# SPDX-License-Identifier: GPL-3.0-or-later
# Sourced behind cli.sh by tests of real curves, digitised from data sheets (outside data): $curves is
# their folder. Without it the test ends here, as skipped.
data=${WEDGEWORK_DATA:-../shared/data}
case $data in /*) ;; *) data=$top/$data ;; esac
curves=$data/curves
if [ ! -r "$curves/reference_values.csv" ]; then
    skip 'the outside curves are not there; WEDGEWORK_DATA names their folder'
    finish
    exit
fi
