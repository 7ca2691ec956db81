# build, demo and test need Go and make alone: no C compiler, no network once the modules are there.
# Everything that needs more stands under prove. "make" lists the targets.

.DEFAULT_GOAL := help
.NOTPARALLEL:

# A checkout owned by another user (a container, a shared machine) makes git refuse to answer, and the build with it.
export GOFLAGS += -buildvcs=false

# The binaries hold no C code; only the race detector asks for a compiler.
export CGO_ENABLED := 0

BUF := bin/tools/buf
STATICCHECK := bin/tools/staticcheck
ACCEPTED := proto/accepted.binpb

# Flags of the benchmark, such as --only service.
BENCH ?=

# Runs of each fuzz target. A count, not a time: the Go fuzzer can report its own deadline as a failure.
FUZZ_RUNS ?= 5000

# Minutes of each fuzz target in a long run.
FUZZ_LONG ?= 5

# How long the chaos run goes on; at least one round of all harms is made.
CHAOS_TIME ?= 3m

PROVE := race lint generated-check breaking breaking-proof witness properties bits fuzz units mutation chaos bench-smoke

.PHONY: help
help: ## list the targets
	@awk -F ':.*## ' '/^[a-z-]+:.*## / { printf "  %-16s %s\n", $$1, $$2 }' $(MAKEFILE_LIST)

.PHONY: build
build: ## build bin/lixiviumd, bin/lixi and the plugins, and write bin/lixivium.yaml for them
	go build -trimpath -o bin/ ./server/cmd/lixiviumd ./clients/lixi ./plugins/...
	bin/lixiviumd plugin-line --relative-to bin bin/lixivium-* > bin/lixivium.yaml.new
	mv bin/lixivium.yaml.new bin/lixivium.yaml

.PHONY: demo
demo: build ## weigh out the demo recipes through a real lixiviumd
	./testdata/demo.sh

.PHONY: test
test: ## vet, every test, and the engine built for wasip1, which proves that it is pure
	go vet ./...
	go test -vet=off ./...
	GOOS=wasip1 GOARCH=wasm go build ./engine/...

.PHONY: prove
prove: compiler ## race, lint, contract, second witness, properties, bits, fuzz, mutation, chaos; installs what it needs
	@for stage in $(PROVE); do .ci/stage "$$stage" $(MAKE) --no-print-directory "$$stage" || exit 1; done

.PHONY: race
race: ## every test under the race detector (needs a C compiler)
	CGO_ENABLED=1 go test -vet=off -race ./...

.PHONY: lint
lint: $(BUF) $(STATICCHECK) ## gofmt, vet, staticcheck, buf lint, buf format
	@unformatted=$$(gofmt -l .); test -z "$$unformatted" || { echo "run gofmt -w on:"; echo "$$unformatted"; exit 1; }
	go vet ./...
	go vet -tags chaos ./server/chaos
	go vet -tags properties ./engine
	$(STATICCHECK) ./...
	$(STATICCHECK) -tags chaos ./server/chaos
	$(STATICCHECK) -tags mutate ./engine/...
	$(STATICCHECK) -tags properties ./engine
	$(BUF) lint
	$(BUF) format -d --exit-code

.PHONY: generate
generate: $(BUF) ## write the Go code of the protos anew
	$(BUF) format -w
	$(BUF) generate

.PHONY: generated-check
generated-check: $(BUF) ## the committed Go code is what the protos generate
	.ci/generated-check $(BUF)

.PHONY: breaking
breaking: $(BUF) ## the protos keep every promise of the accepted image
	$(BUF) breaking --against $(ACCEPTED)

.PHONY: breaking-proof
breaking-proof: $(BUF) ## the breaking check catches a renumbered field and lets a comment pass
	.ci/breaking-proof $(BUF) $(ACCEPTED)

.PHONY: accept
accept: $(BUF) ## accept the protos as they stand (a commit of its own)
	$(BUF) build --exclude-source-info -o $(ACCEPTED)

.PHONY: witness
witness: build office ## every demo answer worked out again, in Python and by a spreadsheet; installs LibreOffice
	@python3 -B testdata/witness/witness.py bin/batches.fods

.PHONY: fuzz
fuzz: ## every fuzz target, FUZZ_RUNS inputs each
	.ci/fuzz $(FUZZ_RUNS)

.PHONY: fuzz-long
fuzz-long: ## every fuzz target, FUZZ_LONG minutes each (5 unless said), from what the last such run found
	.ci/fuzz $(FUZZ_LONG)m $(FUZZ_TARGET)

.PHONY: units
units: ## every conversion of testdata/published/units.tsv asked of GNU units; installs it
	@.ci/units
	go test -vet=off -count=1 -tags gnuunits -run '^TestGNUUnits$$' -v ./engine

.PHONY: chaos
chaos: ## a real lixiviumd under load and all kinds of harm, for CHAOS_TIME (Linux)
	CHAOS_TIME=$(CHAOS_TIME) go test -vet=off -tags chaos -count=1 -timeout 0 -v ./server/chaos

.PHONY: chaos-long
chaos-long: ## an hour of it
	@$(MAKE) --no-print-directory chaos CHAOS_TIME=1h

.PHONY: mutation
mutation: ## move every embedded figure and print which published check notices
	go test -vet=off -tags mutate -count=1 -v -run '^Test(Mutation|Data)' ./engine

.PHONY: properties
properties: ## the rules of an answer on thousands of drawn recipes, the superfat's uncertainty by sampling, three ways to the same bits
	go test -vet=off -tags properties -count=1 -run '^TestProperties' -v -timeout 10m ./engine

.PHONY: bits
bits: emulator ## the same bits on amd64 v1 and v3 and on arm64 (emulated), and no fused multiply-add in the engine
	.ci/fused
	.ci/bits

.PHONY: bench
bench: build office ## engine, service, plugins, start, memory beside their baselines (10 minutes); installs LibreOffice
	go run ./server/cmd/bench $(BENCH)

.PHONY: bench-smoke
bench-smoke: ## every table of the benchmark once, for the tables and not for their figures
	$(MAKE) --no-print-directory bench BENCH='--rounds 1 --calls 3200'

.PHONY: bench-parts
bench-parts: ## the Go benchmarks of single parts
	go test -run '^$$' -bench . -benchmem ./...

.PHONY: office
office:
	@.ci/office

.PHONY: compiler
compiler:
	@.ci/compiler

.PHONY: emulator
emulator:
	@.ci/emulator

$(BUF): .ci/go.mod .ci/go.sum
	cd .ci && go build -trimpath -o ../$@ github.com/bufbuild/buf/cmd/buf
	@touch $@

$(STATICCHECK): .ci/go.mod .ci/go.sum
	cd .ci && go build -trimpath -o ../$@ honnef.co/go/tools/cmd/staticcheck
	@touch $@
