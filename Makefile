# tiecoat: build, test, install. `make help` lists what can be asked. GNU make.
#
# One build folder per flavour: BUILD=build is the plain one, and `make asan` works in build-asan. V=1 shows commands.

BUILD   ?= build
PREFIX  ?= /usr/local
LIBDIR  ?= $(PREFIX)/lib
INCLUDEDIR ?= $(PREFIX)/include
ZSHDIR  ?= $(PREFIX)/share/zsh/site-functions
CC      ?= cc
VERSION := 0.1.0
# Of the library's interface: goes up when programs built with an earlier one would break (docs/embedding.md).
ABI     := 0

# Why these warnings: the first three are the house's rule; -Wconversion and -Wshadow catch lost figures and hidden names;
# the rest are mistakes that tests seldom see. -ffp-contract=off: the same figures from every compiler.
WARN    := -Wall -Wextra -Wpedantic -Wconversion -Wshadow -Wstrict-prototypes -Wmissing-prototypes -Wpointer-arith \
           -Wwrite-strings -Wvla -Wno-missing-field-initializers -Wno-sign-conversion -Wno-overlength-strings
CFLAGS  ?= -O2 -g
ALL_CFLAGS := -std=c17 -D_GNU_SOURCE -DTC_VERSION='"$(VERSION)"' -DHASH_NONFATAL_OOM=1 -Isrc -fvisibility=hidden -fPIC \
           -ffp-contract=off -fno-math-errno $(WARN) $(CPPFLAGS) $(CFLAGS) $(SAN)
LIBS    := -lyaml -lpcre2-8 -ljansson -lm -pthread

# The floors, ground floor first: each may use those before it (tests/house/floors.sh watches). The rulebook's image is made by
# those below api, which carries it.
BELOW   := base read science library rule stack judge plan report
FLOORS  := $(BELOW) api
SOURCES := $(foreach f,$(BELOW),$(sort $(wildcard src/$(f)/*.c)))
OBJECTS := $(SOURCES:src/%.c=$(BUILD)/obj/%.o)
API     := $(sort $(wildcard src/api/*.c))
API_OBJECTS := $(API:src/%.c=$(BUILD)/obj/%.o) $(BUILD)/obj/builtin.o
FACE    := $(filter-out src/face/make_image.c,$(sort $(wildcard src/face/*.c)))
RULES   := $(sort $(wildcard rules/*/*.yaml))
# What the rule language is compiled by: a change there outdates the image.
PACKAGES := gcc make libc6-dev libyaml-dev libpcre2-dev libjansson-dev libcmocka-dev uthash-dev tzdata
CHECK_PACKAGES := clang g++ locales mandoc pkgconf libxml2-utils python3 python3-icalendar python3-jsonschema python3-yaml

comma := ,
ifeq ($(V),1)
Q :=
say = @:
else
Q := @
say = @printf '  %-6s %s\n' $(1) $(2)
endif

.PHONY: card-check tsan mutate all lib help deps demo check unit reference golden faults house rulebook install install-program install-lib uninstall deps-deb deb deb-try deb-twice asan fuzz bench fresh clean
.SECONDARY:
.DELETE_ON_ERROR:

all: $(BUILD)/tiecoat lib

help:
	@echo 'make            build/tiecoat                    make check    all tests'
	@echo 'make deps       install missing Debian packages  make asan     tests under the sanitizers'
	@echo 'make demo       judge an example                 make fuzz     each fuzz target (SECONDS_EACH=30)'
	@echo 'make install    DESTDIR=, PREFIX=$(PREFIX)     make bench    speed and memory'
	@echo 'make deb        Debian packages (make deps-deb)  make deb-try  install and try them in a clean root (root)'
	@echo 'make tsan       threads under the sanitizer      make fresh    the README in a clean root (root, debootstrap)'

# --- packages ----------------------------------------------------------------------------------------------------------
deps:
	@missing=; for p in $(PACKAGES) $(CHECK_PACKAGES); do \
	  dpkg-query -W -f '$${Status}' $$p 2>/dev/null | grep -q 'ok installed' || missing="$$missing $$p"; done; \
	if [ -n "$$missing" ]; then \
	  root=; [ "$$(id -u)" = 0 ] || root=sudo; \
	  echo "installing:$$missing"; \
	  $$root apt-get update -qq && DEBIAN_FRONTEND=noninteractive $$root apt-get install -y -qq --no-install-recommends $$missing; \
	fi

# --- the program -------------------------------------------------------------------------------------------------------
$(BUILD)/obj/%.o: src/%.c
	$(call say,CC,$<)
	@mkdir -p $(@D)
	$(Q)$(CC) $(ALL_CFLAGS) -MMD -MP -c $< -o $@

$(BUILD)/floors.a: $(OBJECTS)
	$(call say,AR,$@)
	@rm -f $@
	$(Q)ar rcs $@ $^

# The rulebook's image is made by running the program on the build machine: a cross build needs it run there.
$(BUILD)/make_image: $(BUILD)/obj/face/make_image.o $(BUILD)/floors.a
	$(call say,LINK,$@)
	$(Q)$(CC) $(ALL_CFLAGS) $^ $(LIBS) $(LDFLAGS) -o $@

$(BUILD)/rulebook.image: $(BUILD)/make_image $(RULES)
	$(call say,IMAGE,$@)
	$(Q)$(BUILD)/make_image $(RULES) > $@.new && mv $@.new $@

$(BUILD)/builtin.S: src/api/embed.sh $(BUILD)/rulebook.image $(RULES)
	$(call say,EMBED,$@)
	$(Q)sh src/api/embed.sh $(BUILD)/rulebook.image $(RULES) > $@.new && mv $@.new $@

$(BUILD)/obj/builtin.o: $(BUILD)/builtin.S
	$(Q)$(CC) $(SAN) -c $< -o $@

$(BUILD)/tiecoat: $(FACE:src/%.c=$(BUILD)/obj/%.o) $(BUILD)/lib/api.a $(BUILD)/floors.a
	$(call say,LINK,$@)
	$(Q)$(CC) $(ALL_CFLAGS) $^ $(LIBS) $(LDFLAGS) -o $@

# --- the library -------------------------------------------------------------------------------------------------------
# What tiecoat.h reaches of the floors, with the rulebook. In the static one it is one object whose only names are those of the
# header, so that a program may call its own things as it likes; the shared one hides the others anyway. It needs less than the
# program does: what is linked here stands in src/api/tiecoat.pc.in, too.
LIB_LIBS := -lyaml -lpcre2-8 -ljansson -lm -pthread
SHARED   := libtiecoat.so.$(VERSION)
OBJCOPY  ?= objcopy

lib: $(BUILD)/libtiecoat.a $(BUILD)/libtiecoat.so

$(BUILD)/libtiecoat.a: $(API_OBJECTS) $(BUILD)/floors.a
	$(call say,AR,$@)
	$(Q)$(CC) -r -nostdlib $^ -o $(BUILD)/libtiecoat.o
	$(Q)$(OBJCOPY) --localize-hidden $(BUILD)/libtiecoat.o
	@rm -f $@
	$(Q)ar rcs $@ $(BUILD)/libtiecoat.o
	@rm -f $(BUILD)/libtiecoat.o

$(BUILD)/$(SHARED): $(API_OBJECTS) $(BUILD)/floors.a src/api/libtiecoat.map
	$(call say,LINK,$@)
	$(Q)$(CC) $(ALL_CFLAGS) -shared -Wl,-soname,libtiecoat.so.$(ABI) -Wl,--version-script=src/api/libtiecoat.map \
	  $(if $(SAN),,-Wl$(comma)-z$(comma)defs) $(API_OBJECTS) $(BUILD)/floors.a $(LIB_LIBS) $(LDFLAGS) -o $@

$(BUILD)/libtiecoat.so: $(BUILD)/$(SHARED)
	@ln -sf $(SHARED) $(BUILD)/libtiecoat.so.$(ABI)
	@ln -sf libtiecoat.so.$(ABI) $@

demo: $(BUILD)/tiecoat
	$(BUILD)/tiecoat check examples/pilot-cutter.yaml

# --- tests -------------------------------------------------------------------------------------------------------------
# tests/unit/FLOOR/test_*.c and tests/reference/FLOOR/ref_*.c are programs of their own, linked with their floor and those
# below. A first-lines comment `link: FLAGS` adds flags for the linker.
floor_of   = $(word 1,$(subst /, ,$(1)))
UNIT      := $(sort $(wildcard tests/unit/*/test_*.c))
REFERENCE := $(sort $(wildcard tests/reference/*/ref_*.c))
UNIT_BIN  := $(UNIT:tests/%.c=$(BUILD)/tests/%)
REF_BIN   := $(REFERENCE:tests/%.c=$(BUILD)/tests/%)

$(foreach f,$(FLOORS),$(eval FLOOR_LIB_$(f) := $(BUILD)/lib/$(f).a))
define floor_library
$(BUILD)/lib/$(1).a: $(if $(filter api,$(1)),$(API_OBJECTS),$(filter $(BUILD)/obj/$(1)/%,$(OBJECTS)))
	@mkdir -p $$(@D); rm -f $$@
	$$(Q)ar rcs $$@ $$^
endef
$(foreach f,$(FLOORS),$(eval $(call floor_library,$(f))))

# Floors up to and including $(1), top first. science is below library, rule and stack alike.
upto = $(call upto_,$(1),$(FLOORS))
upto_ = $(if $(2),$(if $(filter $(1),$(firstword $(2))),$(firstword $(2)),$(call upto_,$(1),$(wordlist 2,99,$(2))) $(firstword $(2))))

define test_program
$(BUILD)/tests/$(1)/%: tests/$(1)/%.c $(foreach f,$(call upto,$(notdir $(1))),$(BUILD)/lib/$(f).a)
	$$(call say,TEST,$$@)
	@mkdir -p $$(@D)
	$$(Q)$$(CC) $$(ALL_CFLAGS) -Wno-missing-prototypes -Itests/unit/$(notdir $(1)) -MMD -MP $$< -Wl,--start-group \
	  $$(filter %.a,$$^) -Wl,--end-group $$$$(sed -n '1,5s@.*link: \(.*\)\*/@\1@p' $$<) -lcmocka $$(LIBS) $$(LDFLAGS) -o $$@
endef
$(foreach f,$(FLOORS),$(eval $(call test_program,unit/$(f))))
$(foreach f,$(FLOORS),$(eval $(call test_program,reference/$(f))))

unit: $(UNIT_BIN)
	@sh tests/run.sh $(BUILD)/logs/unit $(UNIT_BIN)

reference: $(REF_BIN) $(BUILD)/tiecoat
	@sh tests/run.sh $(BUILD)/logs/reference $(REF_BIN)

SCRIPTS := $(wildcard tests/house/*.sh tests/golden/run.sh tests/faults/*.sh tests/rulebook/*.sh tests/card/*.sh)

check: $(UNIT_BIN) $(REF_BIN) $(BUILD)/tiecoat lib $(BUILD)/replay
	@TIECOAT=$(BUILD)/tiecoat BUILD=$(BUILD) CC='$(CC)' sh tests/run.sh $(BUILD)/logs $(UNIT_BIN) $(REF_BIN) $(SCRIPTS) $(BUILD)/replay

# Mutants of the rulebook: how many of the changed tests and the operands left out its examples, the reference recipes and the
# golden files notice. The least is what was measured, less 1 %. UNNOTICED=fdis lists the others (tests/rulebook/mutate/main.c).
MUTATE_LEAST ?= 94.6
UNNOTICED    ?=
$(BUILD)/mutate: $(wildcard tests/rulebook/mutate/*.[ch]) $(BUILD)/floors.a
	$(call say,LINK,$@)
	$(Q)$(CC) $(ALL_CFLAGS) $(filter %.c %.a,$^) $(LIBS) $(LDFLAGS) -o $@

mutate: $(BUILD)/mutate
	@$(BUILD)/mutate --least $(MUTATE_LEAST) --unnoticed '$(UNNOTICED)'

# The kits of docs/ci against what their servers read them with; fetches packages, so it is no part of check.
kits: $(BUILD)/tiecoat
	@command -v npm >/dev/null && command -v rsync >/dev/null || { echo 'make kits needs node, npm and rsync'; exit 1; }
	@sh tests/servers/kits.sh $(BUILD)/tiecoat

# --- sanitizers, fuzzing, bench ------------------------------------------------------------------------------------------
asan:
	$(MAKE) BUILD=build-asan CFLAGS='-O1 -g -fno-omit-frame-pointer' \
	  SAN='-fsanitize=address,undefined -fno-sanitize-recover=undefined' check

# Threads: the collection's own tests under the thread sanitizer.
tsan:
	$(MAKE) BUILD=build-tsan CFLAGS='-O1 -g' SAN='-fsanitize=thread' build-tsan/tiecoat
	TIECOAT=build-tsan/tiecoat sh tests/faults/threads.sh

FUZZ     := $(basename $(notdir $(sort $(wildcard tests/fuzz/fuzz_*.c))))
SECONDS_EACH ?= 30

# Replays the corpora through every target, with the plain compiler.
$(BUILD)/fuzz/%-replay: tests/fuzz/%.c tests/fuzz/driver.c $(BUILD)/floors.a
	@mkdir -p $(@D)
	$(call say,FUZZ,$@)
	$(Q)$(CC) $(ALL_CFLAGS) -Wno-missing-prototypes $^ $(LIBS) $(LDFLAGS) -o $@

$(BUILD)/replay: $(FUZZ:%=$(BUILD)/fuzz/%-replay)
	@{ echo '#!/bin/sh'; echo 'set -e'; \
	  for f in $(FUZZ); do echo "$(BUILD)/fuzz/$$f-replay tests/fuzz/corpus/$${f#fuzz_}"; done; } > $@; chmod +x $@

fuzz:
	@command -v clang >/dev/null || { echo 'make fuzz needs clang: make deps'; exit 1; }
	$(MAKE) BUILD=build-fuzz CC=clang CFLAGS='-O1 -g' SAN='-fsanitize=fuzzer-no-link,address,undefined' build-fuzz/floors.a
	@mkdir -p build-fuzz/fuzz
	@for f in $(FUZZ); do \
	  clang -std=c17 -D_GNU_SOURCE -Isrc -O1 -g -fsanitize=fuzzer,address,undefined tests/fuzz/$$f.c build-fuzz/floors.a $(LIBS) \
	    -o build-fuzz/fuzz/$$f || exit 1; \
	  mkdir -p build-fuzz/corpus/$$f; \
	  echo "$$f for $(SECONDS_EACH) s"; \
	  build-fuzz/fuzz/$$f -max_total_time=$(SECONDS_EACH) -timeout=20 -rss_limit_mb=2048 -print_final_stats=0 -verbosity=0 \
	    $$( [ -f tests/fuzz/$$f.dict ] && echo -dict=tests/fuzz/$$f.dict ) \
	    build-fuzz/corpus/$$f tests/fuzz/corpus/$${f#fuzz_} || exit 1; \
	done

# The card's pages in a browser and its calendars in another reader. What that needs beside this machine's packages is fetched by npm, so it
# is no part of check.
card-check: $(BUILD)/tiecoat
	@for test in tests/card/*/run.sh; do TIECOAT=$(BUILD)/tiecoat BUILD=$(BUILD) sh $$test || exit 1; done

bench: $(BUILD)/tiecoat $(BUILD)/floors.a
	@BUILD=$(BUILD) CC='$(CC)' sh tests/bench/run.sh

fresh:
	@sh tests/house/fresh-root

# --- install -------------------------------------------------------------------------------------------------------------
# DESTDIR goes before every path and is not written into any file. Debian's folder of libraries: LIBDIR=/usr/lib/$(MULTIARCH).
BIN     = $(DESTDIR)$(PREFIX)/bin
SHARE   = $(DESTDIR)$(PREFIX)/share
DOC     = $(SHARE)/doc/tiecoat
ZSH     = $(DESTDIR)$(ZSHDIR)
SCHEMAS := recipe shelf settings rulebook

install: install-program install-lib

install-program: $(BUILD)/tiecoat
	install -d $(BIN) $(SHARE)/man/man1 $(SHARE)/bash-completion/completions $(SHARE)/fish/vendor_completions.d \
	  $(ZSH) $(SHARE)/tiecoat/schemas $(DOC)/ci
	install -m 755 $(BUILD)/tiecoat $(BIN)/tiecoat
	install -m 644 docs/tiecoat.1 $(SHARE)/man/man1/tiecoat.1
	install -m 644 docs/completion/tiecoat.bash $(SHARE)/bash-completion/completions/tiecoat
	install -m 644 docs/completion/tiecoat.fish $(SHARE)/fish/vendor_completions.d/tiecoat.fish
	install -m 644 docs/completion/_tiecoat $(ZSH)/_tiecoat
	for f in $(RULES) $$(find examples -type f | LC_ALL=C sort); do \
	  case $$f in rules/*) to=$(SHARE)/tiecoat/$$f ;; *) to=$(DOC)/$$f ;; esac; \
	  install -D -m 644 $$f $$to || exit 1; done
	for s in $(SCHEMAS); do $(BUILD)/tiecoat schema $$s > $(SHARE)/tiecoat/schemas/$$s.schema.json || exit 1; done
	install -m 644 docs/ci/* $(DOC)/ci
	install -m 644 README.md LICENSE docs/*.md $(DOC)

install-lib: lib
	install -d $(DESTDIR)$(LIBDIR)/pkgconfig $(DESTDIR)$(INCLUDEDIR)
	install -m 644 src/api/tiecoat.h $(DESTDIR)$(INCLUDEDIR)/tiecoat.h
	install -m 644 $(BUILD)/libtiecoat.a $(DESTDIR)$(LIBDIR)/libtiecoat.a
	install -m 644 $(BUILD)/$(SHARED) $(DESTDIR)$(LIBDIR)/$(SHARED)
	ln -sf $(SHARED) $(DESTDIR)$(LIBDIR)/libtiecoat.so.$(ABI)
	ln -sf libtiecoat.so.$(ABI) $(DESTDIR)$(LIBDIR)/libtiecoat.so
	sed -e 's|@prefix@|$(PREFIX)|' -e 's|@libdir@|$(LIBDIR:$(PREFIX)/%=$${prefix}/%)|' \
	  -e 's|@includedir@|$(INCLUDEDIR:$(PREFIX)/%=$${prefix}/%)|' -e 's|@version@|$(VERSION)|' \
	  src/api/tiecoat.pc.in > $(DESTDIR)$(LIBDIR)/pkgconfig/tiecoat.pc
	chmod 644 $(DESTDIR)$(LIBDIR)/pkgconfig/tiecoat.pc

uninstall:
	rm -f $(BIN)/tiecoat $(SHARE)/man/man1/tiecoat.1 $(SHARE)/bash-completion/completions/tiecoat \
	  $(SHARE)/fish/vendor_completions.d/tiecoat.fish $(ZSH)/_tiecoat \
	  $(DESTDIR)$(INCLUDEDIR)/tiecoat.h $(DESTDIR)$(LIBDIR)/libtiecoat.a $(DESTDIR)$(LIBDIR)/$(SHARED) \
	  $(DESTDIR)$(LIBDIR)/libtiecoat.so.$(ABI) $(DESTDIR)$(LIBDIR)/libtiecoat.so $(DESTDIR)$(LIBDIR)/pkgconfig/tiecoat.pc
	rm -rf $(DOC) $(SHARE)/tiecoat

# --- Debian packages (docs/packaging/README.md) ---------------------------------------------------------------------------
DEB_PACKAGES := debhelper dpkg-dev fakeroot lintian

deps-deb:
	@$(MAKE) -s deps CHECK_PACKAGES= PACKAGES='$(PACKAGES) $(DEB_PACKAGES)'

deb:
	@sh docs/packaging/build.sh $(BUILD)/deb

# In a clean root, installed, tried and purged; twice, and compared.
deb-try: deb
	@sh docs/packaging/try.sh $(BUILD)/deb

deb-twice:
	@sh docs/packaging/twice.sh $(BUILD)/deb-twice

clean:
	rm -rf build build-*

-include $(OBJECTS:.o=.d) $(API:src/%.c=$(BUILD)/obj/%.d) $(FACE:src/%.c=$(BUILD)/obj/%.d)
