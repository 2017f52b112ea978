// Writes dew-points.tsv: dew point and wet bulb of air over water from npm's psychrolib, which follows the ASHRAE
// Handbook - Fundamentals (2017), chapter 1: other equations than this program's.  The table is kept, so that tests need no
// network; to make it again:
//
//     npm install psychrolib@1.1.1 && node make-dew-table.mjs > dew-points.tsv
//
// Only dew points from 0 C up: below, that library goes over to ice, and paint is not sprayed there.
import { createRequire } from "node:module";
import { readFileSync } from "node:fs";

const require = createRequire(process.cwd() + "/");
const psychrolib = require("psychrolib");
const { version, license } = JSON.parse(readFileSync(require.resolve("psychrolib/package.json")));
const pressure = 101325;

psychrolib.SetUnitSystem(psychrolib.SI);
const rows = [];
for (let t = 0; t <= 50; t += 2.5)
	for (let rh = 5; rh <= 100; rh += 5) {
		const dew = psychrolib.GetTDewPointFromRelHum(t, rh / 100);
		if (dew >= 0)
			rows.push([t, rh, dew.toFixed(4), psychrolib.GetTWetBulbFromRelHum(t, rh / 100, pressure).toFixed(3)]);
	}
console.log(`# Made by make-dew-table.mjs with psychrolib ${version} (npm, licence ${license}), ${rows.length} points at 101325 Pa.`);
console.log("# Source: ASHRAE Handbook - Fundamentals 2017, chapter 1, as that library has it.  Degrees Celsius, humidity in %.");
console.log("temperature\thumidity\tdew_point\twet_bulb");
for (const row of rows)
	console.log(row.join("\t"));
