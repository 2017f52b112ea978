/* Calendars read by ical.js, held against the JSON of the same plan: each task lies within an event, each event begins and ends with
 * tasks, by instants that the reader makes of the written zone; each alarm comes no later than the last moment that it speaks of; and
 * what is written again by the reader is read the same.
 *
 *   node calendar.js PROGRAM RECIPE.yaml…
 *
 * CARD_MODULES: the folder that holds node_modules; that of this file if unset. */
'use strict';
const path = require('node:path');
const { spawnSync } = require('node:child_process');
const { createRequire } = require('node:module');
const { pathToFileURL } = require('node:url');

const from = createRequire(path.resolve(process.env.CARD_MODULES || __dirname, 'package.json'));
const [program, ...recipes] = process.argv.slice(2);
const start = '--start=2031-05-14 19:00';
const environment = { ...process.env, SOURCE_DATE_EPOCH: '1900000000', TZ: 'UTC' };
let complaints = 0;
let events = 0;
let alarms = 0;

function complain(recipe, what) {
	complaints++;
	console.log(`${recipe}: ${what}`);
}

function run(form, recipe, options) {
	const done = spawnSync(program, ['card', `--format=${form}`, ...options, recipe], { encoding: 'utf8', env: environment });
	return { status: done.status, text: done.stdout };
}

const instant = moment => Date.parse(moment.time.length > 19 ? moment.time : moment.time + 'Z');

/* Instants; of a clock without a zone as if it stood in Greenwich. */
function at(time, ICAL) {
	return time.zone === ICAL.Timezone.localTimezone ? Date.UTC(time.year, time.month - 1, time.day, time.hour, time.minute, time.second)
		: time.toJSDate().getTime();
}

function readEvents(text, ICAL) {
	const root = new ICAL.Component(ICAL.parse(text));
	ICAL.TimezoneService.reset();
	for (const zone of root.getAllSubcomponents('vtimezone'))
		ICAL.TimezoneService.register(zone);
	return root.getAllSubcomponents('vevent').map(component => {
		const event = new ICAL.Event(component);
		const begins = at(event.startDate, ICAL);
		const ends = component.hasProperty('dtend') ? at(event.endDate, ICAL) : begins;
		const alarm = component.getAllSubcomponents('valarm')
			.map(one => begins + 1000 * one.getFirstPropertyValue('trigger').toSeconds());
		return { uid: event.uid, summary: event.summary, description: event.description, begins, ends, alarm };
	});
}

function compare(recipe, card, found) {
	const starts = card.tasks.map(task => instant(task.start));
	const edges = new Set([...starts, ...card.tasks.map(task => instant(task.end))]);
	const closing = card.tasks.filter(task => task.latest && task.closed_by !== null).map(task => instant(task.latest));
	const work = found.filter(event => !event.uid.endsWith('-latest@tiecoat'));
	for (const moment of starts)
		if (!work.some(event => event.begins <= moment && moment <= event.ends))
			complain(recipe, `no event holds the task of ${new Date(moment).toISOString()}`);
	for (const event of work)
		if (!edges.has(event.begins) || !edges.has(event.ends))
			complain(recipe, `no task begins or ends with ${event.summary}`);
	for (const event of found) {
		if (event.uid.endsWith('-latest@tiecoat') && !closing.includes(event.begins))
			complain(recipe, `nothing closes with ${event.summary}`);
		if (event.alarm.some(moment => moment > Math.max(...closing)))
			complain(recipe, `an alarm comes too late: ${event.summary}`);
		alarms += event.alarm.length;
	}
	const told = card.judgement.cautions.filter(caution => caution.steps.length === 0);
	for (const event of found)
		for (const caution of told)
			if (!event.description.includes(caution.text))
				complain(recipe, `${event.summary} is without the caution ${caution.id}`);
}

function check(recipe, ICAL) {
	let options = [];
	let card = JSON.parse(run('json', recipe, options).text);
	if (card.state === 'found' && !card.calendar.origin)
		card = JSON.parse(run('json', recipe, options = [start]).text);
	const calendar = run('ical', recipe, options);
	if (card.state !== 'found') {
		if (calendar.status !== 2)
			complain(recipe, 'a calendar without times');
		return;
	}
	const found = readEvents(calendar.text, ICAL);
	events += found.length;
	compare(recipe, card, found);
	const again = readEvents(ICAL.stringify(ICAL.parse(calendar.text)), ICAL);
	if (JSON.stringify(again) !== JSON.stringify(found))
		complain(recipe, 'not the same when it was written again');
}

async function main() {
	const { default: ICAL } = await import(pathToFileURL(from.resolve('ical.js')).href);
	for (const recipe of recipes)
		check(recipe, ICAL);
	console.log(`summary: ${events} events and ${alarms} alarms of ${recipes.length} recipes; ${complaints} failed`);
	process.exit(complaints || events === 0 || alarms === 0 ? 1 : 0);
}
main();
