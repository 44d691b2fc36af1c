# primaprova: build, test, demonstrate. Needs Go, Python 3.9 or later with pip, and make.
# Everything fetched lies in .deps (private to this folder; make clean removes it).
#
#   make demo      plan the demo season, show it, write its calendar, charts and page to demo-out
#   make test      fetch what the tests need and run them
#   make audit     plans of 400 invented seasons, judged by a second auditor (an hour)
#   make freeze    larger seasons, planned here as at the commit BASE, to the byte
#   make bench     measure, side by side with other solvers (hours)
#   make test-all  the checks that need more: linters, the race detector (a C compiler), a browser, Node,
#                  other systems (Wine, an emulator of arm64)
#   make release   archives for every platform, in dist
#   make campaign  what may come from outside, over and over, for hours; a table of counts

GO     ?= go
PYTHON ?= python3

# The engines are reached without cgo.
export CGO_ENABLED := 0

# Pip installs into .deps only, so its advice about root and new versions is noise.
export PIP_ROOT_USER_ACTION := ignore
export PIP_DISABLE_PIP_VERSION_CHECK := 1

# Where neither HOME nor a cache is named, Go's caches go to .deps as well.
ifeq ($(strip $(HOME)$(XDG_CACHE_HOME)$(GOCACHE)),)
export GOCACHE := $(CURDIR)/.deps/go-build
endif
ifeq ($(strip $(HOME)$(GOPATH)),)
export GOPATH := $(CURDIR)/.deps/go
endif

TOOL    := $(GO) tool -modfile=tools.mod
GO_DIRS := cmd io model solver

.PHONY: all demo test test-all bench deps engines references clean \
        campaign format vet lint vuln race kills audit freeze browser node tidy picture bin/primaprova \
        windows-built windows-run

all: bin/primaprova

# --- build -----------------------------------------------------------------

# One file that runs when copied alone to another machine: the engines are inside. GOOS and
# GOARCH choose another platform. Go decides what has to be built again.
bin/primaprova: PLATFORM = $(shell $(GO) env GOOS)/$(shell $(GO) env GOARCH)
bin/primaprova:
	@GOOS= GOARCH= $(GO) run ./solver/ortools/pack -python "$(PYTHON)" -for "$(PLATFORM)"
	$(GO) build -tags engines -trimpath -buildvcs=false -ldflags "-s -w" -o $@$(shell $(GO) env GOEXE) ./cmd/primaprova

# Archives for every platform that is pinned, and SHA256SUMS. The same commit gives the same bytes.
PLATFORMS := $(shell sed -n 's,^\([a-z]*/[a-z0-9]*\) .*,\1,p' solver/ortools/pins.txt)
VERSION   := $(or $(VERSION),$(shell git describe --tags 2>/dev/null || echo "0.$$(git rev-list --count HEAD 2>/dev/null)"))
COMMIT    := $(or $(COMMIT),$(shell git rev-parse --short=12 HEAD 2>/dev/null))
DATE      := $(or $(DATE),$(shell git log -1 --format=%cs 2>/dev/null))
bundles:
	@GOOS= GOARCH= $(GO) build -o .deps/pack ./solver/ortools/pack
	@printf '%s\n' $(PLATFORMS) | xargs -P 2 -n 1 .deps/pack -python "$(PYTHON)" -for

release: bundles
	@rm -rf dist
	$(GO) run ./cmd/release -out dist -version $(VERSION) -commit $(COMMIT) -date $(DATE)

# --- the demo --------------------------------------------------------------

demo: export PRIMAPROVA_TODAY = 2027-01-11
demo: bin/primaprova
	@rm -rf demo-out && mkdir demo-out && cp testdata/seasons/demo/season.yaml demo-out/
	@# Exit code 3 says that the plan leaves something out; a full season may have to.
	@# The demo plays on its season's first day, whenever it is made.
	bin/primaprova plan demo-out/season.yaml || [ $$? -eq 3 ]
	bin/primaprova show demo-out/season.yaml
	bin/primaprova export demo-out/season.yaml --ics demo-out/season.ics \
	  --chart demo-out/season.svg --page demo-out/season.html
	bin/primaprova export demo-out/season.yaml --wall demo-out/season.pdf --sheets season,months,weeks,parts
	@echo "make demo: season, plan, calendar, charts, a page for the phone and sheets for the wall are in demo-out"

# --- what the tests need ---------------------------------------------------

deps: engines references

# The libraries of the engines, from the pinned wheel: .deps/engines.
engines:
	@GOOS= GOARCH= $(GO) run ./solver/ortools/pack -python "$(PYTHON)"

# Independent programs to compare with, by hash: .deps/python. The stamp holds the Python's
# version and the checksum of the list, so that a change of either installs anew.
references:
	@$(PYTHON) -c 'import sys; sys.exit(sys.version_info < (3, 9))' || \
	  { echo 'make: $(PYTHON): not a Python 3.9 or later; name another with PYTHON=...' >&2; exit 1; }
	@want="$$($(PYTHON) -V) $$(cksum < testdata/requirements.txt)"; \
	if [ "$$(cat .deps/python/.stamp 2>/dev/null)" != "$$want" ]; then \
	  echo 'make: installing the reference programs of testdata/requirements.txt into .deps/python'; \
	  rm -rf .deps/python.new && \
	  $(PYTHON) -m pip install --quiet --no-warn-script-location --only-binary=:all: --require-hashes \
	    --target .deps/python.new --requirement testdata/requirements.txt && \
	  echo "$$want" > .deps/python.new/.stamp && \
	  rm -rf .deps/python && mv .deps/python.new .deps/python; \
	fi

# --- tests -----------------------------------------------------------------

test: deps
	$(GO) test -timeout 60m ./...
	@echo 'make test: all tests passed'

# A browser, Wine and killed commands wait a good deal, so they run side by side with the rest; what
# they need of other systems' engines is built before, since release-check writes that anew.
test-all: deps format vet lint tidy vuln node arm64 windows-built
	$(MAKE) -j 5 windows-run browser kills race release-check
	@echo 'make test-all: all checks passed'

# gofmt -l names the files that are not formatted, and says nothing otherwise.
format:
	@list="$$(gofmt -l *.go $(GO_DIRS))"; \
	if [ -n "$$list" ]; then echo "not formatted (gofmt -w):"; echo "$$list"; exit 1; fi

vet: engines
	$(GO) vet ./...
	$(GO) vet -trimpath -tags engines,browser,elsewhere,node,papers,release ./...
	GOOS=windows $(GO) vet ./cmd/primaprova ./io/private ./io/disk ./solver/sharedlib ./testdata/wine/...

lint: engines
	$(TOOL) staticcheck ./...
	$(TOOL) staticcheck -tags engines ./cmd/... ./solver/ortools/...

tidy:
	$(GO) mod tidy -diff
	$(GO) mod verify

# The vulnerability database is on the network. Where it cannot be reached that is said, and
# is no failure of ours; every other failure is one.
vuln:
	@mkdir -p .deps; $(TOOL) govulncheck ./... > .deps/govulncheck.txt 2>&1; code=$$?; \
	if [ $$code -ne 0 ] && grep -q '^govulncheck: fetching vulnerabilities: ' .deps/govulncheck.txt; then \
	  echo 'govulncheck: database unreachable, not checked'; \
	else \
	  cat .deps/govulncheck.txt; exit $$code; \
	fi

# Where goroutines of ours meet: the engines call back while a caller may stop them, and steps
# and windows under way see others kept. All else in the engines' tests is of one goroutine.
# The race detector needs cgo.
MEETS := Progress|Context|GivingUp|Patience|Interrupt|ManyAtOnce|SideBySide|Stop|Stdout
race: deps
	@command -v $$($(GO) env CC) >/dev/null || \
	  { echo 'make race: the race detector needs a C compiler, and there is no '"$$($(GO) env CC)" >&2; exit 1; }
	CGO_ENABLED=1 $(GO) test -timeout 60m -race ./io/feed ./io/stand
	CGO_ENABLED=1 $(GO) test -timeout 60m -race -run '$(MEETS)' ./solver/highs ./solver/cpsat
	CGO_ENABLED=1 $(GO) test -timeout 60m -race -run IsTheSameOn ./solver/lns
	CGO_ENABLED=1 $(GO) test -timeout 60m -race -run 'TestSolveLaysDaysOut|TestProofsHold' ./solver ./solver/bound

# Commands killed at random moments (kill -9): each file wholly the old or the new one. A run
# of make test kills 30 times.
kills: deps
	KILLS=100 $(GO) test -count=1 -run TestKilledAnywhere ./cmd/primaprova

# What primaprova may meet, over and over, and counted: CAMPAIGN='-hours 8 -seed 7 -seasons 1000000'.
# Then each fuzz target FUZZ times; what one finds is kept in its package's testdata/fuzz.
FUZZ ?= 100000x
campaign: deps bin/primaprova
	$(GO) run ./cmd/campaign $(CAMPAIGN)
	@for found in $$(grep -r --include='*_test.go' -o '^func Fuzz[A-Za-z]*' cmd io solver | sed 's/func //'); do \
	  echo "$$found"; $(GO) test ./$$(dirname $${found%%:*}) -run '^$$' -fuzz "^$${found##*:}$$" -fuzztime $(FUZZ) || exit 1; \
	done

# Invented seasons lived through commands of every kind, each plan judged by an auditor written
# in Python from docs/meaning.md alone. AUDIT says how many, and where they begin:
# AUDIT='--first 5000 --seeds 200 --keep folder'. A run of make test has 10.
AUDIT ?= --seeds 400
audit: deps
	AUDIT="$(AUDIT)" $(GO) test -count=1 -timeout 0 -v -run TestSecondAuditor ./cmd/primaprova

# Larger seasons, planned at the commit BASE and then here: for changes to the solver that are meant
# to leave every plan as it is (make test has small ones, in solver/testdata/frozen.txt).
BASE ?= HEAD
FROZEN := FREEZE=$(CURDIR)/.deps/frozen.txt $(GO) test -count=1 -timeout 0 -run TestPlansAreFrozen ./solver
freeze: deps
	@git worktree remove --force .deps/freeze 2>/dev/null; git worktree add --quiet --detach .deps/freeze $(BASE)
	@mkdir -p .deps/freeze/.deps && ln -sfn $(CURDIR)/.deps/engines .deps/freeze/.deps/engines
	cd .deps/freeze && UPDATE=1 $(FROZEN)
	$(FROZEN)
	@git worktree remove --force .deps/freeze

# The page of a season and its charts, measured in a real browser, and days lived with the page at the
# stand: Debian's Chromium, which is installed where that may be done. PICTURES=folder keeps pictures of it, to be looked at.
CHROMIUM ?= chromium
browser: deps
	@command -v $(CHROMIUM) >/dev/null || { test "$$(id -u)" = 0 && command -v apt-get >/dev/null && \
	  echo 'make browser: installing chromium' && apt-get update -qq && \
	  DEBIAN_FRONTEND=noninteractive apt-get install -qq -y chromium >/dev/null; } || \
	  { echo 'make browser: there is no $(CHROMIUM); install it, or name another with CHROMIUM=...' >&2; exit 1; }
	@$(node-packages)
	CHROMIUM=$(CHROMIUM) AXE=$(CURDIR)/.deps/node/node_modules/axe-core/axe.min.js $(GO) test -p 1 -count=1 -timeout 30m -tags browser -run InABrowser ./io/page ./io/chart ./cmd/primaprova

# What the tests need in Node, which is installed where that may be done; packages go to .deps/node,
# by the hashes in their lock file: a third reader of iCalendar files, a checker of pages.
define node-packages
{ command -v node && command -v npm; } >/dev/null || { test "$$(id -u)" = 0 && command -v apt-get >/dev/null && \
  echo 'make $@: installing nodejs and npm' && apt-get update -qq && \
  DEBIAN_FRONTEND=noninteractive apt-get install -qq -y nodejs npm >/dev/null; } || \
  { echo 'make $@: Node with npm is needed; install it' >&2; exit 1; }; \
if ! cmp -s testdata/node/package-lock.json .deps/node/package-lock.json || [ ! -d .deps/node/node_modules ]; then \
  mkdir -p .deps/node && cp testdata/node/package.json testdata/node/package-lock.json .deps/node/ && \
  (cd .deps/node && npm ci --ignore-scripts --no-audit --no-fund); \
fi
endef

# The reader of calendars, and the scripts of the page at the stand.
node: deps
	@$(node-packages)
	$(GO) test -count=1 -tags node -run TestNodeAgrees ./io/ical
	node --test io/stand/testdata/

# What a release holds; a second build, elsewhere, of the same bytes; and what comes out of an
# archive, alone in a fresh folder and without a network.
release-check: release
	RELEASE_VERSION=$(VERSION) RELEASE_COMMIT=$(COMMIT) RELEASE_DATE=$(DATE) $(GO) test -count=1 -tags release ./cmd/release

# install PACKAGES, PROGRAM: Debian's packages, where that may be done.
install = command -v $(2) >/dev/null || { test "$$(id -u)" = 0 && command -v apt-get >/dev/null && \
	  echo 'make $@: installing $(1)' && apt-get update -qq && \
	  DEBIAN_FRONTEND=noninteractive apt-get install -qq -y --no-install-recommends $(1) >/dev/null; } || \
	  { echo 'make $@: there is no $(2); install $(1)' >&2; exit 1; }

# The Windows binary under Wine: the scripts of testdata/script, and the demo planned as here.
# Wine before 9 lacks what every program of Go needs of Windows 10, so that is added (testdata/wine/prng).
WINE := WINEPREFIX=$(CURDIR)/.deps/wine WINEDEBUG=-all
windows: windows-built
	$(MAKE) windows-run

windows-built: bin/primaprova
	@$(call install,wine wine64,wine)
	@GOOS= GOARCH= $(GO) run ./solver/ortools/pack -python "$(PYTHON)" -for windows/amd64 -engines .deps/engines-windows
	GOOS=windows GOARCH=amd64 $(GO) build -tags engines -trimpath -buildvcs=false -ldflags "-s -w" -o bin/primaprova.exe ./cmd/primaprova
	GOOS=windows $(GO) test -c -o .deps/private.exe ./io/private
	@rm -rf .deps/wine && $(WINE) wineboot -i >/dev/null 2>&1
	@test -e .deps/wine/drive_c/windows/system32/bcryptprimitives.dll || \
	  $(GO) run ./testdata/wine/prng .deps/wine/drive_c/windows/system32/bcryptprimitives.dll

windows-run: export OTHER_BUILD = wine ../../bin/primaprova.exe
windows-run: export OTHER_BUILD_ENGINES = $(CURDIR)/.deps/engines-windows
windows-run:
	@# A command line that waits for input keeps Wine's services up, which would start anew each time.
	@export $(WINE); mkfifo .deps/wine/input; wine cmd <.deps/wine/input >/dev/null 2>&1 & exec 3>.deps/wine/input; \
	export $(WINE); trap 'wineserver -k' EXIT; set -ex; wine .deps/private.exe; \
	$(GO) test -count=1 -timeout 30m -run TestScripts ./cmd/primaprova; \
	$(GO) test -count=1 -timeout 30m -tags elsewhere -run 'Elsewhere|UnderWine' ./cmd/primaprova

# The binary for Linux on arm64, under an emulator.
arm64: export OTHER_BUILD = qemu-aarch64 -L /usr/aarch64-linux-gnu ../../bin/primaprova-arm64
arm64: export PRIMAPROVA_WITHIN = none
arm64: bin/primaprova
	@$(call install,qemu-user libc6-arm64-cross libstdc++6-arm64-cross,qemu-aarch64)
	@GOOS= GOARCH= $(GO) run ./solver/ortools/pack -python "$(PYTHON)" -for linux/arm64
	GOOS=linux GOARCH=arm64 $(GO) build -tags engines -trimpath -buildvcs=false -ldflags "-s -w" -o bin/primaprova-arm64 ./cmd/primaprova
	$(GO) test -count=1 -timeout 30m -tags elsewhere -run TestSmallElsewhere ./cmd/primaprova

# One table, and docs/measured.md. BENCH chooses rows and budgets: BENCH='-run growth -work 0.1'.
bench:
	@$(MAKE) --silent deps bin/primaprova >&2
	@PYTHON="$(PYTHON)" $(GO) run ./cmd/bench $(BENCH) -to docs/measured.md

# The picture in the README: the second month of the demo season as the wall has it. Of a plan
# with little work, which fills the month as well.
picture: export PRIMAPROVA_TODAY = 2027-01-11
picture: deps bin/primaprova
	@rm -rf .deps/picture && mkdir -p .deps/picture && cp testdata/seasons/demo/season.yaml .deps/picture/
	bin/primaprova plan .deps/picture/season.yaml --budget 3 || [ $$? -eq 3 ]
	bin/primaprova export .deps/picture/season.yaml --wall .deps/picture/season.pdf --sheets months
	PYTHONPATH=.deps/python $(PYTHON) testdata/python/picture.py .deps/picture/season.pdf 2 docs/month.png

# Go makes the files of its module cache read-only.
clean:
	@if [ -d .deps ]; then chmod -R u+w .deps; fi
	rm -rf .deps bin dist demo-out solver/ortools/bundle
