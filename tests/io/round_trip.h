/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WEDGEWORK_TESTS_IO_ROUND_TRIP_H
#define WEDGEWORK_TESTS_IO_ROUND_TRIP_H

#include "parsed.h"
#include "same.h"

typedef ww_status (*round_trip_writer)(const ww_readings *, const char *, ww_error *);

/* Awkward tables: every kind of column, thirds, counts that differ, labels that need quotes. */
static const char *const round_trip_tables[] = {
    "# name: \"made up, and quoted\"\n# status: M\n# log h0: -0.3333333333333333\n# lot: 7;8\n"
    "step,wedge,red,green,blue,visual,n,sd_red\n"
    "base,-,0.21,0.58,0.77,0.3,3,0.004\n1,3.05,0.1,over,-,0.30000000000000004,3,-\n",
    "tone,part,visual,n,sd\n\"cloud, \"\"left\"\"\",thin,1.31,2,0.01\n\"# 5; x\",dense,-0,1,-\n"
    "' 4 ',,0.42,-,-\n\" padded \",,over,4,-\n",
    "logh,visual\n-2.1875,0.05\n1e-7,0.06\n0.1,5e-324\n",
    "step,stop,red,blue,n_red,n_blue,sd_blue\n1,-1.5,0.1,0.2,4,1,0.003\n2,0,0.3,over,1,7,-\n"
    "base,-,-,0.3,-,2,-\n",
    "pack,time,red,green,blue\n60Y45M,11,0.7,0.69,0.71\n,12.5,0.6666666666666666,0.6,0.5\n",
    "value,value_red,value_green,value_blue,gray,cyan,magenta,yellow,visual,n\n"
    "0.1,0.2,0.3,0.4,10,20,30,33.333333333333336,1.7,5\n1,1,1,1,0,0,0,0,-,-\n",
    "L,a,b,Y,x,y,sd_y,n_Y\n50.25,-1.125,3.0625,80.1,0.3457,0.3585,0.001,3\n-,-,-,over,-,-,-,2\n",
    "visual\n-\n0.5\n",
    "step,wedge,soft,hard,visual\nbase,-,-,-,0.06\n1,0.05,0,12.5,1.9\n1,0.05,8.333333333333334,0,"
    "1.7\n2,0.2,100000,1e-3,over\nBASE,,0,0,0.05\n",
    "step,part,width,wedge,visual\nbase,,-,-,0.2\n1,,12.75,0.1,0.3\n2,,0.3333333333333333,0.2,0."
    "4\n",
    "step,tone,time,visual\nbase,,-,0.06\n,Covered,-,0.3\n1,,60,0.31\n",
    "step,red\nBase,0.2\n\"#1\",0.3\n\"-\",0.4\n\"1\",-0.1\n1,6\n",
};

/* Writes each to a file in the folder, reads it back, compares to the bit. */
static inline void check_round_trips(round_trip_writer write, const char *path) {
    for (size_t i = 0; i < ROWS(round_trip_tables); i++) {
        ww_readings first = parsed(round_trip_tables[i], round_trip_tables[i]);
        ww_readings again = WW_READINGS_INIT;
        ww_error err = WW_ERROR_INIT;
        test_status(round_trip_tables[i], write(&first, path, &err), WW_OK, &err);
        test_status(round_trip_tables[i], ww_readings_file_read(path, &again, &err), WW_OK, &err);
        if (difference(&first, &again))
            fail_msg("%s: %s differs", round_trip_tables[i], difference(&first, &again));
        ww_readings_release(&first);
        ww_readings_release(&again);
    }
}

#endif
