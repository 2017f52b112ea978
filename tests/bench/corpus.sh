#!/bin/sh
# Writes COUNT recipes into FOLDER: corpus.sh COUNT FOLDER. Each is the examples' own material with other figures: parts,
# paints, passes, waits and weather vary by a small fixed generator, so that the same count gives the same bytes.
set -eu
count=$1
dir=$2
mkdir -p "$dir"
awk -v count="$count" -v dir="$dir" '
function rnd(n) { seed = (seed * 1103515245 + 12345) % 2147483648; return int(seed / 65536) % n }
function pick(list,   a, n) { n = split(list, a, "|"); return a[rnd(n) + 1] }
BEGIN {
  seed = 20;
  for (i = 0; i < count; i++) {
    sub_ = sprintf("%s/%03d", dir, int(i / 1000));
    if (i % 1000 == 0) system("mkdir -p " sub_);
    f = sprintf("%s/%06d.yaml", sub_, i);
    hull = pick("polyurethane-resin|polystyrene|abs|photopolymer-print|epoxy-resin");
    colour = pick("acrylic-lacquer|nitrocellulose-lacquer|waterborne-acrylic|alkyd-enamel");
    printf "recipe: Harbour craft %d, built for the bench\n", i > f;
    printf "scale: 1:%s\n", pick("24|48|72|96") > f;
    printf "workshop:\n  temperature: %d °C\n  humidity: %d %%\n  air_speed: 0.%d m/s\n  room: %d m³\n  extraction: %d m³/h\n", 17 + rnd(9), 35 + rnd(30), 1 + rnd(5), 20 + rnd(30), 100 + rnd(300) > f;
    print "parts:" > f;
    printf "  hull:\n    substrate: %s\n    area: %d cm²\n    lines: {width: 0.30 mm, depth: 0.25 mm}\n", hull, 150 + rnd(400) > f;
    printf "  wheelhouse: {substrate: %s, area: %d cm²}\n", pick("polystyrene|abs|acrylic-plastic"), 40 + rnd(100) > f;
    printf "  railings: {substrate: %s, area: %d cm²}\n", pick("brass|steel|white-metal"), 10 + rnd(40) > f;
    print "shelf:" > f;
    print "  grey primer:\n    family: lacquer-primer\n    size: 120 ml\n    price: 9.50" > f;
    printf "  hull colour:\n    family: %s\n    solids: %d %%\n    size: 60 ml\n    price: 7.50\n", colour, 10 + rnd(20) > f;
    print "  two-part gloss:\n    family: urethane-clear-2k\n    mix: 2:1\n    pot_life: 2 h\n    size: 200 ml" > f;
    print "stack:" > f;
    print "  - wash: detergent\n  - wait: 2 h\n  - sand: P400\n  - dust: tack-cloth" > f;
    printf "  - glue: cyanoacrylate\n    on: [hull, wheelhouse]\n  - scribe: {width: 0.35 mm, depth: 0.35 mm}\n    on: hull\n" > f;
    printf "  - coat: grey primer\n    role: primer\n    coats: %d\n    pass: %s\n    flash: %d min\n", 1 + rnd(3), pick("mist|light|medium"), 3 + rnd(8) > f;
    printf "  - wait: %d h\n  - sand: P600\n", 1 + rnd(20) > f;
    print "  - fill: light-curing-putty\n    on: hull\n    depth: 0.4 mm\n  - cure: lamp\n    time: 2 min\n  - sand: P800\n  - dust: tack-cloth" > f;
    printf "  - coat: hull colour\n    role: colour\n    effect: %s\n    coats: %d\n    pass: %s\n    flash: %d min\n    nozzle: 0.3 mm\n", pick("solid|solid|metallic"), 2 + rnd(4), pick("light|light|medium|wet"), 3 + rnd(10) > f;
    printf "  - wait: %d %s\n", 1 + rnd(40), pick("min|h") > f;
    print "  - decal: water-slide\n    on: hull\n    softener: decal-softener\n  - wait: 12 h" > f;
    printf "  - coat: two-part gloss\n    role: clear\n    coats: 2\n    pass: %s\n    flash: 10 min\n", pick("light|medium|wet") > f;
    printf "  - wait: %d d\n  - sand: P3000\n  - polish: cutting-compound\n", 1 + rnd(6) > f;
    close(f);
  }
}'
