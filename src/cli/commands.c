/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "cli/commands.h"
#include <stdint.h>
#include <string.h>
#include <wedgework/develop.h>
#include <wedgework/lesson_class.h>
#include <wedgework/model.h>
#include <wedgework/plot.h>

static const char *model_word(size_t i) {
    return i < WW_MODEL_COUNT ? ww_model_name((ww_model_kind)i) : NULL;
}

const ww_option ww__common_options[] = {
    {.name = "--json",
     .brief = "print the result as one JSON document in place of the text",
     .kind = WW_OPTION_SWITCH},
    {.name = "--plot",
     .value = "FILE.svg|.png|.pdf",
     .brief = "draw the result into a file, with gnuplot",
     .kind = WW_OPTION_OUTPUT,
     .check = ww_plot_check},
    {.name = "--report",
     .value = "FILE.html",
     .brief = "write the result with its plot as one self-contained page",
     .kind = WW_OPTION_OUTPUT},
    {.name = "--quiet",
     .brief = "print no text; files, and what --json or `-o -` asks for, are given all the same",
     .kind = WW_OPTION_SWITCH},
    {.name = "--help", .brief = "show this help", .kind = WW_OPTION_SWITCH},
    {.name = NULL}};

static const ww_option fit_options[] = {
    {.name = "--through",
     .value = "WEDGE.csv",
     .brief = "the wedge that the steps were exposed through, where the readings name steps but "
              "give no exposures",
     .kind = WW_OPTION_INPUT},
    {.name = "--model",
     .value = "NAME",
     .brief = "shape of the curve (otherwise the one that the readings bear out best)",
     .kind = WW_OPTION_WORD,
     .word = model_word},
    {.name = "--log-h0",
     .value = "X",
     .brief = "log10 exposure at wedge density 0, at stop 0 or of one second, in place of what the "
              "readings say",
     .kind = WW_OPTION_NUMBER},
    {.name = "--resamples",
     .value = "N",
     .brief = "how often the readings are drawn anew to find the 95 % intervals (otherwise 1000)",
     .kind = WW_OPTION_WHOLE,
     .limits = {20, 100000, false}},
    {.name = "--seed",
     .value = "N",
     .brief = "where these drawings start (otherwise 1); the same seed gives the same result",
     .kind = WW_OPTION_WHOLE,
     .limits = {0, 4294967295.0, false}},
    {.name = "-o",
     .value = "C.json",
     .brief = "write the curve file; - is standard output",
     .kind = WW_OPTION_OUTPUT,
     .to_stdout = true},
    {.name = NULL}};

static const char *const scan_args[] = {"--merge A.tif B.tif -o OUT.tif",
                                        "--densities IN.tif --scanner S.json -o OUT.tif", NULL};

static const ww_option help_options[] = {
    {.name = "--man", .brief = "print the manual page, as troff", .kind = WW_OPTION_SWITCH},
    {.name = "--completion", .brief = "print the completion for bash", .kind = WW_OPTION_SWITCH},
    {.name = "--readme",
     .brief = "print the table of commands as the README has it",
     .kind = WW_OPTION_SWITCH},
    {.name = NULL}};

const ww_command ww__commands[] = {
    {.name = "scanner",
     .group = "Scans",
     .brief = "what do this scanner's code values mean in density, and how far can it see?",
     .args = "SCAN",
     .options = ww__scanner_options,
     .run = ww__cmd_scanner,
     .reads = "scan of a known step wedge",
     .writes = "scanner file",
     .about = "SCAN is a TIFF file in which a step wedge lies whose densities are known. The wedge "
              "is found by itself, however it lies. What light, flare and dark make of a density "
              "is fitted to its steps, and where codes are not light but a power of it, that is "
              "found. The scanner file makes densities of other scans: make all of them with the "
              "settings of this one, and everything automatic switched off. The exit status is 1 "
              "where the model is so far from the wedge that nothing read by it is to be trusted.",
     .example = "wedgework scanner wedge.tif --wedge wedge.csv -o scanner.json --plot scanner.svg",
     .files_least = 1,
     .files_most = 1,
     .surplus = "calibrate from one scan at a time"},
    {.name = "measure",
     .group = "Scans",
     .brief = "what are the densities in this scan?",
     .args = "SCAN...",
     .options = ww__measure_options,
     .run = ww__cmd_measure,
     .reads = "scans (wedge, strip, spots or whole negative)",
     .writes = "readings",
     .about = "SCAN is a TIFF file. One of --wedge, --steps, --spot and --whole says what is read; "
              "spots may "
              "also lie beside a strip. "
              "A strip is found by itself, however it lies; of each step the middle is read, and "
              "dust is left out. With the scanner file there are densities, which go straight into "
              "the other commands. Several scans give one result each, with --json one line each; "
              "a bad one does not stop the others. A spot whose name is given twice has been read "
              "twice. The exit status is 1 where all densities of a scan are off, because it was "
              "made otherwise than the one that calibrated the scanner: by reflected light, say, "
              "where that was by transmitted.",
     .example = "wedgework measure strip.tif --steps 21 --scanner scanner.json --overlay look.png "
                "-o film.csv",
     .files_least = 1,
     .files_most = SIZE_MAX,
     .surplus = NULL},
    {.name = "scan",
     .group = "Scans",
     .brief = "which scan exposure keeps the clouds?",
     .args = "NEG.csv",
     .other_args = scan_args,
     .options = ww__scan_options,
     .run = ww__cmd_scan,
     .reads = "negative readings + scanner file",
     .writes = "scan plan",
     .about =
         "NEG.csv holds the densities of a negative's tones, named in the column tone; the row "
         "base is the film's own base. The parts thin and dense of a tone are the two ends of "
         "its detail. What `measure --whole --json` printed of a preview serves as well. Stops "
         "count from the scan that made the scanner file. The exit status is 1 where neither "
         "one scan, nor a second one, nor the mean of several, nor means of both tell apart what "
         "is asked for, or where the preview cannot have been made as the wedge's scan was. With "
         "--merge two scans of one negative become one: dense tones from the "
         "longer exposure, what is clipped there from the shorter, by their measured ratio and "
         "with the weights of their noise; scans more than a pixel apart are refused, and the exit "
         "status is 1 where the scans tell against the result, as its first sentence says. With "
         "--densities every code of a scan becomes a density: 10000 D + 5000 in 16 bits, or D "
         "itself where the scan is in floating point; the exit status is 1 where they are all off, "
         "as where pixels are lighter than open light was.",
     .example = "wedgework scan negative.csv --scanner flatbed.json --keep cloud",
     .files_least = 0, /* cmd_scan.c counts, for each of the things that it does */
     .files_most = SIZE_MAX,
     .surplus = NULL},
    {.name = "fit",
     .group = "Curves",
     .brief = "what is the characteristic curve, and what follows from it?",
     .args = "R.csv",
     .options = fit_options,
     .run = ww__cmd_fit,
     .reads = "readings of exposed steps",
     .writes = "curve file",
     .about = "R.csv holds the densities read from a film or paper that was exposed in steps: a "
              "table with one row a step, its exposure in one of the columns wedge, logh, stop or "
              "time, and its densities in red, green, blue or visual. The curve of every channel "
              "is fitted, readings that do not go with the others are named, and the figures that "
              "follow are given with their 95 % intervals: base+fog, gamma, gradient, speed, "
              "ranges. What the readings do not carry is left out and the notes say why; the exit "
              "status is 3 where they carry neither a curve nor a base.",
     .example = "wedgework fit film.csv -o film.json --plot film.svg",
     .files_least = 1,
     .files_most = 1,
     .surplus = "fit one file at a time"},
    {.name = "develop",
     .group = "Curves",
     .brief = "how long must I develop for the contrast that I need?",
     .args = "C.json...",
     .options = ww__develop_options,
     .run = ww__cmd_develop,
     .reads = "curves at several times",
     .writes = "development plan",
     .about = "C.json are curve files of one film, as `fit` writes them, whose readings said the "
              "development time: two times or more at one temperature. How contrast grows between "
              "them gives the time for the contrast that is wanted, with what it does to speed and "
              "fog. Curves at another temperature tell how that counts. Series exposed in the "
              "camera, with the column stop, give the film's own exposure index. The exit status "
              "is 1 where the time lies more than a quarter past those that were developed, or "
              "contrast never gets there: the first sentence says what to develop next.",
     .example = "wedgework develop film-6.json film-9.json film-13.json --contrast-index 0.56",
     .files_least = 1,
     .files_most = WW_DEVELOP_MOST,
     .surplus = "48 curves of one film will do"},
    {.name = "print",
     .group = "Printing",
     .brief = "which paper contrast, exposure and burning-in put these tones on the paper?",
     .args = "[NEG.csv]",
     .options = ww__print_options,
     .run = ww__cmd_print,
     .reads = "negative readings + paper curves",
     .writes = "print plan",
     .about =
         "NEG.csv holds densities read from places of one negative, with their names in the "
         "column tone; two rows of a tone, thin and dense in the column part, are the two "
         "ends of its detail and allow a verdict on it. The papers are compared, and for the "
         "best one the time, the burning and dodging, the densities to be expected and the "
         "doubt are given. The exit status is 1 where no paper holds what was asked for. What is "
         "written with -o can be made again for another size, aperture or paper, and the hand's "
         "own moves go into its list inputs.moves, in stops.",
     .example = "wedgework print negative.csv --paper grade2.json --paper grade3.json --place "
                "cloud=0.10 --test 12:cloud=0.20",
     .files_least = 0,
     .files_most = 1,
     .surplus = "put --paper before every paper, and print one negative at a time"},
    {.name = "balance",
     .group = "Printing",
     .brief = "the test print is too dark and too green: which filter pack and time next?",
     .args = "[PRINT.csv]",
     .options = ww__balance_options,
     .run = ww__cmd_balance,
     .reads = "test-print readings + paper curve",
     .writes = "filter plan",
     .about =
         "PRINT.csv holds the densities of a grey on a colour print, in red, green and blue; --aim "
         "those of the same grey on a print that you approved: neutral is what you approved, not "
         "equal densities. Pack and time come of one solve on the paper's own curves, and the next "
         "print is foretold. Several greys go by their names in the column tone. A ring-around, "
         "prints with known packs and times, teaches what filters do here. With --from and --to in "
         "place of a print, a new negative gets its pack and time from its densities against the "
         "standard negative's; with --recipe alone a stored plan is carried to another paper lot "
         "or size. The exit status is 1 where no filtration makes the greys neutral.",
     .example = "wedgework balance print.csv --paper paper.json --aim approved.csv --pack 60Y45M "
                "--time 11",
     .files_least = 0,
     .files_most = 1,
     .surplus = "balance one print at a time, and put --paper before the paper's curve"},
    {.name = "strip",
     .group = "Printing",
     .brief = "which exposures should the next test strip carry, and what does this one say?",
     .args = "ACT [STRIP.csv]",
     .options = ww__strip_options,
     .run = ww__cmd_strip,
     .reads = "strip readings",
     .writes = "exposure plan",
     .about = "STRIP.csv holds the densities read from a strip of paper: a row a step, all the "
              "seconds that it got in the column time, its density in visual; the row base is "
              "bare, processed paper. Nothing is foretold beyond the strip: where it does not "
              "bracket what is looked for, there is no time, and the next strip is planned. The "
              "exit status is 1 then, and where a safelight was not safe for the shortest time "
              "tested.",
     .example = "wedgework strip plan --centre 16 --step 1/3 --count 7",
     .verbs = ww__strip_verbs},
    {.name = "match",
     .group = "Outputs",
     .brief = "which tone curve makes this output reproduce that one?",
     .args = "--aim A.csv --print B.csv",
     .options = ww__match_options,
     .run = ww__cmd_match,
     .reads = "two sets of print readings",
     .writes = "correction curve",
     .about =
         "A.csv and B.csv hold the densities of a scale of greys that was sent to two outputs: a "
         "row a grey, what was sent in the column value (0 black to 1 white) or gray (0 to 100 "
         "%), or in value_red, value_green and value_blue, alike in a row, for a curve each; its "
         "density in visual, or in red, green and blue, or its L, or on a display its luminance "
         "Y. Density above each one's own white is matched through the light half, and the dark "
         "end is led into the black that the output has; the text says from where on it cannot "
         "match. A display shows the aim's black. A curve file as --aim runs over its measured "
         "range, equal steps of log H for equal steps of what is sent. A picture sent through it "
         "with --apply is written in 16 bits, or floating point, with its profile. The exit "
         "status is 1 where --white match asks for densities that are out of reach.",
     .example = "wedgework match --aim silver.csv --print rag.csv -o rag.cube",
     .files_least = 0,
     .files_most = 0,
     .surplus = "put --aim and --print before the readings"},
    {.name = "compare",
     .group = "Outputs",
     .brief = "how do these prints (or curves) differ, and is the re-run within limits?",
     .args = "A B...",
     .other_args = ww__compare_args,
     .options = ww__compare_options,
     .run = ww__cmd_compare,
     .reads = "two or more readings or curve files",
     .writes = "comparison",
     .about =
         "A and B are readings of the same scale of greys on two prints, or two curve files; every "
         "further one is compared with A, the first. Tones are paired by their names, or by what "
         "was sent for them in the columns value or gray. White, black, range, gradient, the "
         "course of hue through the scale and the look under a room's light are told, and where "
         "the columns L, a, b are there, CIEDE2000 of each tone. Readings of a display, with its "
         "luminance in the column Y and chromaticity in x, y, are compared above white. With "
         "--limits the first is the approved print: the exit status is 1 where another is beyond "
         "a limit, or its readings cannot tell. Of scans, TIFF files with their resolution, --spot "
         "tells grain and texture, as the spread of density through a disc of 48 um, and --strip "
         "the sharpness of an edge.",
     .example = "wedgework compare approved.csv rerun.csv --limits agreed.csv",
     .files_least = 2,
     .files_most = 12,
     .surplus = "compare up to 12 files at a time"},
    {.name = "control",
     .group = "The process",
     .brief = "is the process still where it was?",
     .args = "ACT [STRIP.csv]",
     .options = ww__control_options,
     .run = ww__cmd_control,
     .reads = "control-strip readings",
     .writes = "control log (SQLite)",
     .about =
         "STRIP.csv holds the densities of a control strip, a row a step; REF.csv those of the "
         "reference strip, with the same labels. A step that is labelled D-min, LD, HD or "
         "D-max, or named so in the column tone of the reference, is charted as such; HD-LD "
         "is contrast, and a spread how far the colours are apart. Limits are yours "
         "(--limits), or are made of the first 10 strips of a process with a reference, and "
         "then stay. Beyond a limit is out of control; runs and trends warn. The exit status "
         "is 1 where a process is out of control.",
     .example = "wedgework control add strip.csv --log control.db --reference reference.csv",
     .verbs = ww__control_verbs},
    {.name = "tones",
     .group = "Teaching",
     .brief = "how does the scene travel through film and paper to the eye?",
     .args = "--film F.json --paper P.json",
     .other_args = ww__tones_args,
     .options = ww__tones_options,
     .run = ww__cmd_tones,
     .reads = "film + paper curves",
     .writes = "four-quadrant diagram",
     .about =
         "Each stop of a scene is followed through camera flare, film, enlarger, paper and the "
         "light that the print is looked at in, to its lightness, with the gradient of each link "
         "and of all together: how much of the scene's detail is kept, and which link kills the "
         "rest. Several films, or one at several times, and several papers are laid over each "
         "other. Colour is followed in red, green and blue. With --wanted the way is taken back: "
         "the film, or the file, that gives a wanted print on a paper; a film given besides is "
         "held against it. Nothing is taken from beyond what was measured of either. The exit "
         "status is 1 where a wanted print cannot be had in all its tones.",
     .example = "wedgework tones --film film.json --paper grade2.json --flare 0.004 "
                "--viewing-flare 0.005 --plot tones.svg",
     .files_least = 0,
     .files_most = 0,
     .surplus = "put --film and --paper before the curve files"},
    {.name = "lesson",
     .group = "Teaching",
     .brief = "practice: readings with a hidden truth and, on request, a fault to find",
     .args = "--seed N",
     .other_args = ww__lesson_args,
     .options = ww__lesson_options,
     .run = ww__cmd_lesson,
     .reads = "a seed number",
     .writes = "readings + answer sheet",
     .about =
         "A film or a paper that does not exist is exposed through a wedge, and its steps are read "
         "with errors of 0.01 to 0.02 D; what is handed out (-o) tells neither its curve nor its "
         "seed. The answers work every figure step by step. The same seed gives the same files on "
         "every machine; with --student a class reads one strip, --class lays files over each "
         "other.",
     .example = "wedgework lesson --seed 7 --fault any -o practice.csv --answers answers.txt",
     .files_least = 0,
     .files_most = WW_LESSON_CLASS_MOST,
     .surplus = "a class has up to 200 files"},
    {.name = "help",
     .group = "Help",
     .brief = "how is a command used?",
     .args = "[COMMAND]",
     .options = help_options,
     .run = ww__cmd_help,
     .about = "Without a COMMAND, all of them are listed.",
     .example = "wedgework help print",
     .files_most = 1,
     .surplus = "ask for help on one command at a time",
     .alone = true},
};

const size_t ww__commands_count = sizeof ww__commands / sizeof ww__commands[0];

const ww_exit ww__exits[] = {
    {0, "done"},
    {1, "done, and the result says that something asked for cannot be held"},
    {2, "wrong use of the command line"},
    {3, "bad or missing input, or readings that carry no part of the answer"},
    {4, "the system refused: a file could not be written, no memory, or no plot because gnuplot is "
        "not installed or failed (then all the rest has been given)"},
    {70, "a bug of the program"},
    {0, NULL}};

const ww_command *ww__commands_find(const char *name) {
    for (size_t i = 0; i < ww__commands_count; i++)
        if (strcmp(ww__commands[i].name, name) == 0)
            return &ww__commands[i];
    return NULL;
}

const ww_option *ww__commands_option_at(const ww_command *command, size_t i) {
    const ww_option *common = ww__common_options;
    for (const ww_option *own = command->options; own->name; own++)
        if (i-- == 0)
            return own;
    for (; common->name; common++)
        if ((!command->alone || strcmp(common->name, "--help") == 0) && i-- == 0)
            return common;
    return NULL;
}

const ww_option *ww__commands_option(const ww_command *command, const char *name) {
    const ww_option *option;
    for (size_t i = 0; (option = ww__commands_option_at(command, i)) != NULL; i++)
        if (strcmp(option->name, name) == 0)
            return option;
    return NULL;
}
