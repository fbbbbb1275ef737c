# SPDX-License-Identifier: GPL-3.0-or-later
#
#   make                 build/wedgework and the library (MODE=rel)
#   make MODE=dev|san|cov   the same with warnings as errors, with sanitizers, with coverage counts
#   make deps            install the Debian packages that everything below needs
#   make demo            the main job on invented data, into build/demo/
#   make check           every test; `make unit T=core/test_fit` runs only the tests whose name holds T
#   make help            the other targets
#
# One file, no recursion: every mode has its own folder and its own rules, made by build_mode below.

B ?= build
MODE ?= rel
JOBS ?= 2
PREFIX ?= /usr/local
DESTDIR ?=
T ?=
FUZZ_SECONDS ?= 60
CC ?= cc
CLANG ?= clang
ROOMS ?= base core plan image io out

VERSION := $(shell sed -n 's|^.define WW_VERSION "\(.*\)"|\1|p' include/wedgework/start.h)
SOVERSION := 0

ifeq ($(filter -j%,$(MAKEFLAGS)),)
MAKEFLAGS += -j$(JOBS)
endif
MAKEFLAGS += --no-builtin-rules --output-sync=target
SHELL := /bin/sh
V ?=
Q := $(if $(V),,@)
say = $(if $(V),,@echo '$(1) $(patsubst $(B)/%,%,$@)')
.DELETE_ON_ERROR:
.SECONDARY:
.SUFFIXES:

ifeq ($(filter $(MODE),rel dev san cov),)
$(error MODE is '$(MODE)'; take rel, dev, san or cov)
endif

# With `deps` among the goals, everything waits for it, even under -j.
FIRST := $(filter deps,$(MAKECMDGOALS))

# ---------------------------------------------------------------------------------- sources

LIB_SRC     := $(foreach room,$(ROOMS),$(sort $(wildcard src/$(room)/*.c)))
CLI_SRC     := $(sort $(wildcard src/cli/*.c))
PLOTS       := $(sort $(wildcard plots/*.gp))
PAGE_JS     := $(sort $(wildcard src/out/*.js))
SUPPORT_SRC := $(sort $(filter-out tests/support/make_% tests/support/browse.c,$(wildcard tests/support/*.c)))
UNIT        := $(patsubst %.c,%,$(sort $(wildcard $(foreach room,$(ROOMS) cli,tests/$(room)/test_*.c))))
FAULT       := $(patsubst %.c,%,$(sort $(wildcard tests/fault/test_*.c)))
FAULT_SRC   := $(filter-out tests/fault/test_%,$(sort $(wildcard tests/fault/*.c)))
# Those that ask test_quick() draw many cases: under sanitizers and valgrind, where WEDGEWORK_QUICK is
# set, few of them; all of them as released.
LONG        := $(patsubst %.c,%,$(shell grep -l 'test_quick()' $(UNIT:%=%.c)))
BENCH       := $(patsubst %.c,%,$(sort $(wildcard tests/bench/bench_*.c)))
FUZZ        := $(patsubst %.c,%,$(sort $(wildcard tests/fuzz/fuzz_*.c)))
GOLDEN      := $(sort $(wildcard tests/cli/*.sh))
HEADERS     := $(sort $(wildcard include/wedgework/*.h))

# ---------------------------------------------------------------------------------- flags

WARNINGS := -Wall -Wextra -Wpedantic -Wshadow -Wconversion -Wdouble-promotion \
            -Wstrict-prototypes -Wmissing-prototypes -Wvla -Wformat=2
CPPFLAGS_ALL := -D_XOPEN_SOURCE=700 -Iinclude -Isrc $(CPPFLAGS)
CFLAGS_ALL := -std=c17 -fPIC -pthread -ffp-contract=off $(WARNINGS)
SANITIZE := -fsanitize=address,undefined -fno-sanitize-recover=all -fno-omit-frame-pointer

# Some five hundred tests are linked, by it in a third of the time.
TEST_LDFLAGS := -fuse-ld=lld

CFLAGS_rel  := $(CFLAGS_ALL) -O2 -g -DNDEBUG
CFLAGS_dev  := $(CFLAGS_ALL) -O1 -g -Werror
CFLAGS_san  := $(CFLAGS_ALL) -O1 -g1 -Werror $(SANITIZE)
CFLAGS_cov  := $(CFLAGS_ALL) -O0 -g --coverage
CFLAGS_fuzz := $(CFLAGS_ALL) -O1 -g -Werror $(SANITIZE) -fsanitize=fuzzer-no-link

# Asked when a recipe runs: at reading time nothing need be installed yet. libcsv has no .pc file.
PKG_CFLAGS = $$(pkg-config --cflags gsl jansson libtiff-4 lcms2 sqlite3)
PKG_LIBS   = $$(pkg-config --libs gsl jansson libtiff-4 lcms2 sqlite3) -lcsv -lm -pthread

OUT_rel  := $(B)
OUT_dev  := $(B)/dev
OUT_san  := $(B)/san
OUT_cov  := $(B)/cov
OUT_fuzz := $(B)/fuzz
OUT      := $(OUT_$(MODE))

# A room may not have been built yet; then neither can the program.
PROGRAM  := $(if $(wildcard src/cli/main.c),wedgework)

.PHONY: all deps demo gallery check unit valgrind layers bench fuzz coverage install uninstall clean \
        format format-check help FORCE
all: $(addprefix $(OUT)/,libwedgework.a libwedgework.so $(PROGRAM))

# ---------------------------------------------------------------------------------- one mode

# $(1) mode, $(2) its folder, $(3) compiler
define build_mode
LIB_OBJ_$(1)     := $(LIB_SRC:%.c=$(2)/obj/%.o) $(2)/obj/plots.o
CLI_OBJ_$(1)     := $(CLI_SRC:%.c=$(2)/obj/%.o)
SUPPORT_OBJ_$(1) := $(SUPPORT_SRC:%.c=$(2)/obj/%.o)
FAULT_OBJ_$(1)   := $(FAULT_SRC:%.c=$(2)/obj/%.o)

$(2)/obj/src/%.o: src/%.c | $(FIRST)
	@mkdir -p $$(@D)
	$$(call say,cc  )
	$(Q)$(3) $$(CPPFLAGS_ALL) $$(CFLAGS_$(1)) $$(PKG_CFLAGS) $$(CFLAGS) -MMD -MP -c -o $$@ $$<

$(2)/obj/tests/%.o: tests/%.c | $(FIRST)
	@mkdir -p $$(@D)
	$$(call say,cc  )
	$(Q)$(3) $$(CPPFLAGS_ALL) -Itests $$(CFLAGS_$(1)) $$(PKG_CFLAGS) $$(CFLAGS) -MMD -MP -c -o $$@ $$<

$(2)/obj/plots.o: $(B)/gen/plots.c src/out/scripts.h | $(FIRST)
	@mkdir -p $$(@D)
	$$(call say,cc  )
	$(Q)$(3) $$(CPPFLAGS_ALL) $$(CFLAGS_$(1)) $$(CFLAGS) -c -o $$@ $$<

$(2)/libwedgework.a: $$(LIB_OBJ_$(1))
	@rm -f $$@
	$$(call say,ar  )
	$(Q)ar rcsD $$@ $$^

$(2)/libwedgework.so: $$(LIB_OBJ_$(1)) tests/layers/public.map
	$$(call say,link)
	$(Q)$(3) $$(CFLAGS_$(1)) $$(LDFLAGS) -shared -Wl,-soname,libwedgework.so.$(SOVERSION) \
	    -Wl,--version-script=tests/layers/public.map -o $$@ $$(LIB_OBJ_$(1)) $$(PKG_LIBS)

$(2)/wedgework: $$(CLI_OBJ_$(1)) $(2)/libwedgework.a
	$$(call say,link)
	$(Q)$(3) $$(CFLAGS_$(1)) $$(LDFLAGS) -o $$@ $$^ $$(PKG_LIBS)

# Makes the invented scans of the demonstration and of the golden runs.
$(2)/make_scans: $(2)/obj/tests/support/make_scans.o $$(SUPPORT_OBJ_$(1)) $(2)/libwedgework.a
	$$(call say,link)
	$(Q)$(3) $$(CFLAGS_$(1)) $$(LDFLAGS) -o $$@ $$^ $$$$(pkg-config --libs cmocka) $$(PKG_LIBS)

# Opens pages in a real browser, for golden runs.
$(2)/browse: $(2)/obj/tests/support/browse.o
	$$(call say,link)
	$(Q)$(3) $$(CFLAGS_$(1)) $$(LDFLAGS) -o $$@ $$^ $$(PKG_LIBS)

$(UNIT:%=$(2)/%): $(2)/%: $(2)/obj/%.o $$(SUPPORT_OBJ_$(1)) $(2)/libwedgework.a
	@mkdir -p $$(@D)
	$$(call say,link)
	$(Q)$(3) $$(CFLAGS_$(1)) $$(LDFLAGS) $(TEST_LDFLAGS) -o $$@ $$^ $$$$(pkg-config --libs cmocka) $$(PKG_LIBS)

$(FAULT:%=$(2)/%): $(2)/%: $(2)/obj/%.o $$(FAULT_OBJ_$(1)) $$(SUPPORT_OBJ_$(1)) $(2)/libwedgework.a
	@mkdir -p $$(@D)
	$$(call say,link)
	$(Q)$(3) $$(CFLAGS_$(1)) $$(LDFLAGS) $(TEST_LDFLAGS) -o $$@ $$(filter %.o,$$^) $(2)/libwedgework.a \
	    $$$$(pkg-config --libs cmocka) $$(PKG_LIBS)

$(BENCH:%=$(2)/%): $(2)/%: $(2)/obj/%.o $(2)/libwedgework.a
	@mkdir -p $$(@D)
	$$(call say,link)
	$(Q)$(3) $$(CFLAGS_$(1)) $$(LDFLAGS) -o $$@ $$^ $$(PKG_LIBS)

-include $$(wildcard $(2)/obj/src/*/*.d $(2)/obj/tests/*/*.d)
endef

$(eval $(call build_mode,rel,$(OUT_rel),$$(CC)))
$(eval $(call build_mode,dev,$(OUT_dev),$$(CC)))
$(eval $(call build_mode,san,$(OUT_san),$$(CC)))
$(eval $(call build_mode,cov,$(OUT_cov),$$(CC)))
$(eval $(call build_mode,fuzz,$(OUT_fuzz),$$(CLANG)))

# How the program ends: with all of it but main.
$(OUT_rel)/tests/fault/test_ended: $(filter-out %/main.o,$(CLI_OBJ_rel))

# The scripts of plots and pages as bytes: a string literal that long is not portable C. A page lets its
# script run by the hash of it.
bytes = od -An -v -td1 $$f | sed 's/  */ /g; s/\([-0-9][0-9]*\)/\1,/g'; printf '0};\n'; n=$$((n + 1))
hash = sha256sum $$f | cut -c 1-64 | tr a-f A-F | basenc --base16 -d | base64
$(B)/gen/plots.c: $(PLOTS) $(PAGE_JS) $(wildcard plots) Makefile | $(FIRST)
	@mkdir -p $(@D)
	@{ printf '/* Made by the Makefile from plots/ and src/out/. */\n#include "out/scripts.h"\n'; n=0; \
	  for f in $(PLOTS); do printf 'static const char text_%d[] = {\n' $$n; $(bytes); done; \
	  n=0; for f in $(PAGE_JS); do printf 'static const char page_%d[] = {\n' $$n; $(bytes); done; \
	  printf 'const struct ww__plot_script ww__plot_scripts[] = {\n'; n=0; \
	  for f in $(PLOTS); do \
	    printf '    {"%s", text_%d},\n' "$$(basename $$f .gp)" $$n; n=$$((n + 1)); done; \
	  printf '    {0, 0}};\nconst size_t ww__plot_scripts_count = %d;\n' $$n; \
	  printf 'const struct ww__page_script ww__page_scripts[] = {\n'; n=0; \
	  for f in $(PAGE_JS); do \
	    printf '    {"%s", page_%d, "sha256-%s"},\n' "$$(basename $$f .js)" $$n "$$($(hash))"; n=$$((n + 1)); done; \
	  printf '    {0, 0, 0}};\nconst size_t ww__page_scripts_count = %d;\n' $$n; } > $@

$(B)/wedgework.1: $(B)/wedgework
	$< help --man > $@

$(B)/wedgework.bash: $(B)/wedgework
	$< help --completion > $@

$(B)/wedgework.pc: FORCE
	@mkdir -p $(@D)
	@printf '%s\n' 'prefix=$(PREFIX)' 'Name: wedgework' \
	    'Description: densitometry and characteristic curves of photographic materials' \
	    'Version: $(VERSION)' 'Requires.private: gsl jansson libtiff-4 lcms2 sqlite3' 'Libs: -L$${prefix}/lib -lwedgework' \
	    'Libs.private: -lcsv -lm -pthread' 'Cflags: -I$${prefix}/include' > $@

# ---------------------------------------------------------------------------------- packages

PACKAGES := build-essential binutils pkg-config clang libclang-rt-dev lld valgrind libgsl-dev \
            libjansson-dev libcsv-dev libtiff-dev liblcms2-dev libsqlite3-dev libcmocka-dev gnuplot-nox \
            fonts-dejavu-core chromium locales liblcms2-utils python3-pyopencolorio

deps:
	@missing=; for p in $(PACKAGES); do \
	  case $$(dpkg-query -W -f='$${Status}' $$p 2>&1) in \
	  'install ok installed') ;; *) missing="$$missing $$p" ;; esac; done; \
	if [ -z "$$missing" ]; then echo 'deps: every package is installed'; exit 0; fi; \
	echo "deps: installing$$missing"; \
	as_root=; [ "$$(id -u)" -eq 0 ] || as_root=sudo; \
	$$as_root apt-get update && \
	$$as_root env DEBIAN_FRONTEND=noninteractive \
	    apt-get install -y --no-install-recommends $$missing

# ---------------------------------------------------------------------------------- tests

# Each result is a file that holds three counts; the summary adds them up. A failing test does not
# stop the others.
RECORD  := tests/support/record.sh
SUMMARY := tests/support/summary.sh
R       := $(B)/check

chosen = $(if $(T),$(foreach x,$(1),$(if $(findstring $(T),$(x)),$(x))),$(1))

UNIT_RESULTS     := $(patsubst tests/%,$(R)/unit/%,$(call chosen,$(UNIT)))
WHOLE_RESULTS    := $(patsubst tests/%,$(R)/whole/%,$(call chosen,$(LONG)))
FAULT_RESULTS    := $(patsubst tests/%,$(R)/%,$(call chosen,$(FAULT)))
REPLAY_RESULTS   := $(patsubst tests/fuzz/fuzz_%,$(R)/replay/%,$(call chosen,$(FUZZ)))
# Long ones first, so that no last one is waited for alone.
VALGRIND_RESULTS := $(patsubst tests/%,$(R)/valgrind/%,$(call chosen,$(filter \
                      tests/base/% tests/core/% tests/io/%,$(LONG) $(filter-out $(LONG),$(UNIT)))))
CLI_RESULTS      := $(patsubst tests/cli/%.sh,$(R)/cli/%,$(call chosen,$(GOLDEN)))
RULES            := layers symbols mirror style
RULE_RESULTS     := $(RULES:%=$(R)/rules/%)

$(R)/unit/%: $(OUT_san)/tests/% FORCE
	@$(if $(filter tests/$*,$(LONG)),WEDGEWORK_QUICK=1) $(RECORD) $@ 'unit $*' $<

$(R)/whole/%: $(OUT_rel)/tests/% FORCE
	@$(RECORD) $@ 'whole $*' $<

$(R)/fault/%: $(OUT_rel)/tests/fault/% FORCE
	@$(RECORD) $@ 'fault $*' $<

# Faults and valgrind try what is installed; asserts stand in the sanitizers' build. valgrind is
# some thirty times slower.
$(R)/valgrind/%: $(OUT_rel)/tests/% FORCE
	@WEDGEWORK_QUICK=1 $(RECORD) $@ 'valgrind $*' \
	    valgrind -q --error-exitcode=99 --leak-check=full --trace-children=no $<

$(R)/cli/%: tests/cli/%.sh $(addprefix $(OUT_san)/,$(PROGRAM) make_scans) $(OUT_rel)/browse FORCE | $(UNIT_RESULTS)
	@rm -rf $@.d && mkdir -p $@.d
	@WEDGEWORK=$(abspath $(OUT_san))/wedgework MAKE_SCANS=$(abspath $(OUT_san))/make_scans \
	    BROWSE=$(abspath $(OUT_rel))/browse \
	    WORK=$(abspath $(R))/cli/$*.d \
	    $(RECORD) $@ 'cli $*' sh $<

$(OUT_san)/replay_%: $(OUT_san)/obj/tests/fuzz/fuzz_%.o $(OUT_san)/obj/tests/fuzz/replay.o \
                     $(OUT_san)/libwedgework.a
	$(call say,link)
	$(Q)$(CC) $(CFLAGS_san) $(LDFLAGS) -o $@ $^ $(PKG_LIBS)

$(R)/replay/%: $(OUT_san)/replay_% FORCE
	@$(RECORD) $@ 'replay $*' $< tests/fuzz/corpus/$*

$(R)/rules/layers: $(LIB_OBJ_rel) FORCE
	@CC='$(CC)' $(RECORD) $@ 'layers' sh tests/layers/layers.sh $(B)/obj
$(R)/rules/symbols: $(B)/libwedgework.a $(B)/libwedgework.so FORCE
	@CC='$(CC)' $(RECORD) $@ 'symbols' sh tests/layers/symbols.sh $(B)
$(R)/rules/mirror: FORCE | $(FIRST)
	@$(RECORD) $@ 'mirror' sh tests/layers/mirror.sh
$(R)/rules/style: FORCE | $(FIRST)
	@$(RECORD) $@ 'style' sh tests/layers/style.sh

check: $(RULE_RESULTS) $(UNIT_RESULTS) $(WHOLE_RESULTS) $(FAULT_RESULTS) $(REPLAY_RESULTS) $(CLI_RESULTS) $(VALGRIND_RESULTS)
	@$(SUMMARY) $^
unit: $(UNIT_RESULTS) $(WHOLE_RESULTS) $(FAULT_RESULTS) $(REPLAY_RESULTS)
	@$(SUMMARY) $^
valgrind: $(VALGRIND_RESULTS)
	@$(SUMMARY) $^
layers: $(RULE_RESULTS)
	@$(SUMMARY) $^

# ---------------------------------------------------------------------------------- other jobs

demo: $(addprefix $(B)/,$(PROGRAM) make_scans) | $(FIRST)
	@sh stepwedges/demo.sh $(B)/wedgework $(B)/make_scans $(B)/demo

# A command and the picture of the demo that shows it. Drawn anew where a plot changes; kept with the
# scripts, so that they can be looked at without a build.
GALLERY := scanner=scanner measure=strip fit=film develop=develop strip=test-strip print=print balance=balance \
           scan=scan match=match compare=compare control=control tones=tones lesson=class
gallery: demo
	@mkdir -p plots/gallery
	@for pair in $(GALLERY); do cp $(B)/demo/$${pair#*=}.svg plots/gallery/$${pair%=*}.svg || exit 1; done
	@echo 'plots/gallery: $(words $(GALLERY)) pictures'

bench: $(BENCH:%=$(OUT_rel)/%) $(B)/wedgework
	@for b in $(BENCH:%=$(OUT_rel)/%); do echo "== $$b"; $$b || exit 1; done
	@echo '== tests/bench/scans.sh'; bash tests/bench/scans.sh $(B)/wedgework $(B)/bench

$(OUT_fuzz)/fuzz_%: $(OUT_fuzz)/obj/tests/fuzz/fuzz_%.o $(OUT_fuzz)/libwedgework.a
	$(call say,link)
	$(Q)$(CLANG) $(CFLAGS_fuzz) -fsanitize=fuzzer $(LDFLAGS) -o $@ $^ $(PKG_LIBS)

fuzz: $(FUZZ:tests/fuzz/%=$(OUT_fuzz)/%)
	@for f in $^; do name=$${f##*/fuzz_}; found=$(OUT_fuzz)/found/$$name; \
	  mkdir -p $$found/corpus; seeds=tests/fuzz/corpus/$$name; [ -d $$seeds ] || seeds=; \
	  echo "== $$name, $(FUZZ_SECONDS) s; crashes go to $$found"; \
	  $$f -max_total_time=$(FUZZ_SECONDS) -print_final_stats=0 -verbosity=0 \
	      -artifact_prefix=$$found/ $$found/corpus $$seeds || exit 1; done

coverage: $(UNIT:%=$(OUT_cov)/%)
	@find $(OUT_cov)/obj -name '*.gcda' -exec rm -f {} +
	@for t in $^; do $$t > $(OUT_cov)/log 2>&1 || echo "failed: $$t"; done
	@for s in $(LIB_SRC); do gcov -n -o $(OUT_cov)/obj/$${s%.c}.gcda $$s 2>/dev/null | \
	  awk -v s=$$s '/^File/ { mine = index($$0, "\x27" s "\x27") } \
	                mine && /^Lines/ { sub(/.*:/, ""); print s ": " $$0; mine = 0 }'; done

install: $(addprefix $(B)/,wedgework libwedgework.a libwedgework.so wedgework.1 wedgework.bash wedgework.pc)
	install -d $(addprefix $(DESTDIR)$(PREFIX)/,bin lib/pkgconfig include/wedgework share/man/man1 \
	    share/bash-completion/completions)
	install -m 755 $(B)/wedgework $(DESTDIR)$(PREFIX)/bin/wedgework
	install -m 644 $(B)/libwedgework.a $(DESTDIR)$(PREFIX)/lib/libwedgework.a
	install -m 755 $(B)/libwedgework.so $(DESTDIR)$(PREFIX)/lib/libwedgework.so.$(VERSION)
	ln -sf libwedgework.so.$(VERSION) $(DESTDIR)$(PREFIX)/lib/libwedgework.so.$(SOVERSION)
	ln -sf libwedgework.so.$(SOVERSION) $(DESTDIR)$(PREFIX)/lib/libwedgework.so
	install -m 644 $(HEADERS) $(DESTDIR)$(PREFIX)/include/wedgework/
	install -m 644 $(B)/wedgework.pc $(DESTDIR)$(PREFIX)/lib/pkgconfig/wedgework.pc
	install -m 644 $(B)/wedgework.1 $(DESTDIR)$(PREFIX)/share/man/man1/wedgework.1
	install -m 644 $(B)/wedgework.bash $(DESTDIR)$(PREFIX)/share/bash-completion/completions/wedgework

uninstall:
	rm -f $(addprefix $(DESTDIR)$(PREFIX)/,bin/wedgework lib/libwedgework.a lib/libwedgework.so \
	    lib/libwedgework.so.$(SOVERSION) lib/libwedgework.so.$(VERSION) lib/pkgconfig/wedgework.pc \
	    share/man/man1/wedgework.1 share/bash-completion/completions/wedgework)
	rm -rf $(DESTDIR)$(PREFIX)/include/wedgework

clean:
	rm -rf $(B)

SOURCES := $(sort $(wildcard include/wedgework/*.h src/*/*.h src/*/*.c tests/*/*.h tests/*/*.c))
format:
	clang-format -i $(SOURCES)
format-check:
	clang-format --dry-run -Werror $(SOURCES)

help:
	@echo 'all deps demo gallery check unit valgrind layers bench fuzz coverage install uninstall clean format format-check'
	@echo 'variables: B (folder, $(B)) MODE ($(MODE)) T (part of a test name) JOBS ($(JOBS)) ROOMS FUZZ_SECONDS PREFIX DESTDIR V (=1: show commands)'
