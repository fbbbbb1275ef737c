/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "cli/measure_job.h"
#include "base/escape.h"
#include "cli/forms.h"
#include "cli/outputs.h"
#include <errno.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <wedgework/overlay.h>
#include <wedgework/readings_file.h>
#include <wedgework/scanner_file.h>

static ww_status no_memory(ww_error *err) {
    return ww_error_set(err, WW_EMEMORY, "no memory for the command line");
}

/* --- which options go together -------------------------------------------------------------- */

static const char *const ways[] = {"--wedge", "--steps", "--spot", "--whole"};
enum { SPOT = 2, WAYS = sizeof ways / sizeof ways[0] };

/* An option, and the ways of measuring that it goes with; what to do otherwise. */
static const struct {
    const char *option;
    bool with[WAYS];
    const char *remedy;
} partners[] = {
    {"--reverse", {false, true, false, false}, "it numbers steps that --steps found; leave it out"},
    {"--strip", {true, true, false, true}, "spots have their own places; leave it out"},
    {"--through", {true, true, false, false}, "it goes by the labels of steps; leave it out"},
    {"--overlay",
     {true, true, true, false},
     "of a whole scan there is nothing to draw; leave it "
     "out"}};

/* Spots may lie beside a strip; its way is the one then. */
static ww_status one_way(const ww_arguments *arguments, size_t *way, ww_error *err) {
    const char *found = NULL;
    for (size_t i = 0; i < WAYS; i++) {
        if (!ww__arguments_has(arguments, ways[i]))
            continue;
        if (i == SPOT && found)
            continue;
        if (found)
            return ww_error_set(err, WW_EUSAGE,
                                "%s and %s are two ways to measure a scan; give one", found,
                                ways[i]);
        found = ways[i];
        *way = i;
    }
    if (!found)
        return ww_error_set(err, WW_EUSAGE,
                            "measure needs to know what is to be read; give one of --wedge "
                            "WEDGE.csv, --steps N, --spot NAME=X,Y,R or --whole");
    return WW_OK;
}

static ww_status check_partners(const ww_arguments *arguments, size_t way, ww_error *err) {
    for (size_t i = 0; i < sizeof partners / sizeof partners[0]; i++)
        if (ww__arguments_has(arguments, partners[i].option) && !partners[i].with[way])
            return ww_error_set(err, WW_EUSAGE, "%s does not go with %s: %s", partners[i].option,
                                ways[way], partners[i].remedy);
    if (ww__arguments_has(arguments, "--through") && !ww__arguments_has(arguments, "--scanner"))
        return ww_error_set(err, WW_EUSAGE,
                            "--through puts exposures beside densities, and codes become densities "
                            "by a scanner file alone; give --scanner S.json");
    for (size_t i = 0; i < 2 && arguments->n_files > 1; i++) {
        const char *const single = i == 0 ? "--plot" : "--report";
        if (ww__arguments_has(arguments, single))
            return ww_error_set(err, WW_EUSAGE, "%s shows one scan; give one scan at a time",
                                single);
    }
    for (size_t i = 0; i < arguments->n_files; i++)
        if (strcmp(arguments->file[i], "-") == 0)
            return ww_error_set(err, WW_EUSAGE,
                                "a scan is read in several places at once and cannot come from "
                                "standard input; name a file");
    return WW_OK;
}

/* --- where results go ----------------------------------------------------------------------- */

char *ww__measure_job_path(const char *folder, const char *scan, const char *ending) {
    const char *slash = strrchr(scan, '/'), *name = slash ? slash + 1 : scan;
    const char *dot = strrchr(name, '.');
    const size_t length = dot && dot != name ? (size_t)(dot - name) : strlen(name);
    const size_t size = strlen(folder) + 1 + length + strlen(ending) + 1;
    char *path = malloc(size);
    if (path)
        snprintf(path, size, "%s/%.*s%s", folder, (int)length, name, ending);
    return path;
}

bool ww__measure_job_writes_json(const ww_measure_job *job) {
    const char *path = ww__arguments_text(job->arguments, "-o");
    if (job->whole || (!job->folder && path && ww__forms_ends_in(path, ".json")))
        return true;
    return job->folder && !job->has_scanner;
}

/* By what the files of a folder end in. */
static bool is_named_as_file(const char *path) {
    return ww__forms_ends_in(path, ".csv") || ww__forms_ends_in(path, ".json") ||
           ww__forms_ends_in(path, ".png");
}

static bool is_folder(const char *path) {
    struct stat found;
    return stat(path, &found) == 0 && S_ISDIR(found.st_mode);
}

/* The folder that an option names, NULL where it names a file. */
static ww_status take_folder(const ww_arguments *arguments, const char *option, const char **folder,
                             ww_error *err) {
    const char *path = ww__arguments_text(arguments, option);
    char shown[200];
    *folder = NULL;
    if (!path || (arguments->n_files == 1 && !is_folder(path)))
        return WW_OK;
    *folder = path;
    if (strcmp(path, "-") == 0)
        return ww_error_set(err, WW_EUSAGE,
                            "several scans have several results, and -o - has room for one; give "
                            "-o a folder, or take --json");
    if (!is_folder(path) && is_named_as_file(path))
        return ww_error_set(err, WW_EUSAGE,
                            "%s: several scans have a file each, in one folder, and '%s' is the "
                            "name of a file; give the folder's name, as in %s results",
                            option, ww__escape_message(path, shown, sizeof shown), option);
    return WW_OK;
}

/* No file of a folder is an input, and no two are one. */
static ww_status check_files(const ww_arguments *arguments, const char *option, const char *folder,
                             const char *ending, ww_error *err) {
    ww_status status = WW_OK;
    for (size_t i = 0; i < arguments->n_files && status == WW_OK; i++) {
        char *path = ww__measure_job_path(folder, arguments->file[i], ending);
        status = path ? ww__outputs_check_file(arguments, option, path, err) : no_memory(err);
        for (size_t k = 0; k < i && status == WW_OK; k++) {
            char *other = ww__measure_job_path(folder, arguments->file[k], ending);
            char shown[200];
            if (!other)
                status = no_memory(err);
            else if (strcmp(path, other) == 0)
                status = ww_error_set(err, WW_EUSAGE,
                                      "%s: two scans would both be written to '%s'; measure them "
                                      "one at a time, or give them names of their own",
                                      option, ww__escape_message(path, shown, sizeof shown));
            free(other);
        }
        free(path);
    }
    return status;
}

static ww_status make_folder(const char *folder, ww_error *err) {
    if (!folder || mkdir(folder, 0777) == 0 || (errno == EEXIST && is_folder(folder)))
        return WW_OK;
    return ww_error_set_system(err, WW_ESYSTEM, errno, folder,
                               "several scans need a folder for their results, which cannot be "
                               "made");
}

static ww_status take_outputs(ww_measure_job *job, ww_error *err) {
    const ww_arguments *arguments = job->arguments;
    const char *file = ww__arguments_text(arguments, "-o");
    const char *overlay = ww__arguments_text(arguments, "--overlay");
    ww_status status = take_folder(arguments, "-o", &job->folder, err);
    if (status == WW_OK)
        status = take_folder(arguments, "--overlay", &job->overlays, err);
    if (status == WW_OK && file && !job->has_scanner && !ww__measure_job_writes_json(job))
        status = ww_error_set(err, WW_EUSAGE,
                              "-o writes densities, and codes become densities by a scanner file "
                              "alone; give --scanner S.json, or -o FILE.json for the codes");
    if (status == WW_OK && overlay && !job->overlays) {
        ww_error why = WW_ERROR_INIT;
        if (ww_overlay_check(overlay, &why) != WW_OK)
            status = ww_error_set(err, WW_EUSAGE, "--overlay: %s", why.msg);
    }
    if (status == WW_OK && job->folder)
        status = check_files(arguments, "-o", job->folder,
                             ww__measure_job_writes_json(job) ? ".json" : ".csv", err);
    if (status == WW_OK && job->overlays)
        status = check_files(arguments, "--overlay", job->overlays, ".png", err);
    return status;
}

/* --- what is measured ----------------------------------------------------------------------- */

static ww_status take_spots(ww_measure_job *job, ww_error *err) {
    const size_t n = ww__arguments_count(job->arguments, "--spot");
    job->spot = calloc(n + 1, sizeof *job->spot);
    job->name = calloc(n + 1, sizeof *job->name);
    if (!job->spot || !job->name)
        return no_memory(err);
    for (size_t i = 0; i < n; i++) {
        const char *given = ww__arguments_text_at(job->arguments, "--spot", i);
        size_t length;
        if (ww__forms_spot(given, &job->spot[i], &length, err) != WW_OK)
            return WW_EUSAGE;
        job->name[i] = strndup(given, length);
        if (!job->name[i])
            return no_memory(err);
        job->spot[i].name = job->name[i];
        job->n_spots++;
    }
    job->request.spot = job->spot;
    job->request.n_spots = n;
    return WW_OK;
}

static ww_status take_request(ww_measure_job *job, ww_error *err) {
    const ww_arguments *arguments = job->arguments;
    const char *strip = ww__arguments_text(arguments, "--strip");
    const ww_optional steps = ww__arguments_number(arguments, "--steps");
    const ww_optional jobs = ww__arguments_number(arguments, "--jobs");
    job->request = (ww_measure_request){.steps = steps.set ? (size_t)steps.value : 0,
                                        .reverse = ww__arguments_has(arguments, "--reverse"),
                                        .threads = jobs.set ? (size_t)jobs.value : 0};
    job->page = ww__arguments_number(arguments, "--page");
    job->has_through = ww__arguments_has(arguments, "--through");
    job->has_scanner = ww__arguments_has(arguments, "--scanner");
    job->whole = ww__arguments_has(arguments, "--whole");
    job->strip = ww__arguments_has(arguments, "--wedge") || steps.set;
    return strip ? ww__forms_region(strip, &job->request.strip, err) : WW_OK;
}

/* Steps that are numbered lie in that order, and so must the rows that tell how wide they are. */
static ww_status check_numbers(const ww_readings *through, size_t steps, ww_error *err) {
    size_t next = 1;
    for (size_t i = 0; i < through->n; i++) {
        const ww_row *row = &through->row[i];
        char number[24];
        if (row->is_base)
            continue;
        snprintf(number, sizeof number, "%zu", next++);
        if (strcmp(row->step, number) != 0)
            return ww_error_set_at(err, WW_EMISMATCH, through->file, row->line,
                                   "--steps numbers the steps from 1 to %zu, and by the order of "
                                   "these rows goes how wide they are: step '%.40s' stands where "
                                   "%s would; put the rows in order, or take the column width out",
                                   steps, row->step, number);
    }
    return WW_OK;
}

/* The wedge on the glass tells how wide its steps are; so does the one that a strip was exposed
 * through. Another number of steps is told when labels are compared. */
static ww_status take_widths(ww_measure_job *job, ww_error *err) {
    const bool known = job->request.wedge != NULL;
    const ww_readings *wedge = known ? &job->wedge : job->has_through ? &job->through : NULL;
    size_t n = 0;
    ww_status status = wedge ? ww_readings_widths(wedge, &job->width, &n, err) : WW_OK;
    if (status == WW_OK && job->width && !known)
        status = check_numbers(wedge, job->request.steps, err);
    if (known || n == job->request.steps)
        job->request.widths = job->width;
    return status;
}

static ww_status read_files(ww_measure_job *job, ww_error *err) {
    const char *wedge = ww__arguments_text(job->arguments, "--wedge");
    const char *through = ww__arguments_text(job->arguments, "--through");
    const char *scanner = ww__arguments_text(job->arguments, "--scanner");
    ww_status status = wedge ? ww_readings_file_read(wedge, &job->wedge, err) : WW_OK;
    if (status == WW_OK && wedge)
        status = ww_readings_check_wedge(&job->wedge, err);
    if (status == WW_OK && through)
        status = ww_readings_file_read(through, &job->through, err);
    if (status == WW_OK && scanner)
        status = ww_scanner_file_read(scanner, &job->scanner, err);
    job->request.wedge = wedge ? &job->wedge : NULL;
    if (job->through.exposure != WW_EXPOSURE_NONE) /* else it is about a wedge */
        job->request.density = job->through.meta.density;
    job->request.scanner = scanner ? &job->scanner : NULL;
    return status == WW_OK ? take_widths(job, err) : status;
}

ww_status ww__measure_job_take(const ww_arguments *arguments, ww_measure_job *job, ww_error *err) {
    size_t way = 0;
    ww_status status = ww__outputs_check(arguments, err);
    job->arguments = arguments;
    if (status == WW_OK)
        status = one_way(arguments, &way, err);
    if (status == WW_OK)
        status = check_partners(arguments, way, err);
    if (status == WW_OK)
        status = take_request(job, err);
    if (status == WW_OK && ww__arguments_has(arguments, "--spot"))
        status = take_spots(job, err);
    if (status == WW_OK)
        status = take_outputs(job, err);
    if (status == WW_OK)
        status = read_files(job, err);
    if (status == WW_OK)
        status = make_folder(job->folder, err);
    return status == WW_OK ? make_folder(job->overlays, err) : status;
}

void ww__measure_job_release(ww_measure_job *job) {
    for (size_t i = 0; i < job->n_spots; i++)
        free(job->name[i]);
    free(job->name);
    free(job->width);
    free(job->spot);
    ww_readings_release(&job->wedge);
    ww_readings_release(&job->through);
    ww_scanner_release(&job->scanner);
    *job = (ww_measure_job)WW_MEASURE_JOB_INIT;
}
