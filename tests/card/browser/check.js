/* Cards held against the HTML standard (html-validate), and in a browser: axe's rules of WCAG 2.2 and good practice, no sideways
 * scrolling, nothing too small or cut off at three widths, light and dark; how many sheets are printed on A4 and Letter. Contrast of
 * drawn text, of which axe has no rule, is measured here (WCAG 2.2, 1.4.3: 4.5 to 1).
 *
 *   node check.js [--pages=N] [--pictures=FOLDER] PAGE.html…
 *
 * CARD_MODULES: the folder that holds node_modules. CHROMIUM: the browser, /usr/bin/chromium if unset. */
'use strict';
const fs = require('node:fs');
const path = require('node:path');
const { createRequire } = require('node:module');
const from = createRequire(path.resolve(process.env.CARD_MODULES || '.', 'package.json'));
const puppeteer = from('puppeteer-core');
const axe = from.resolve('axe-core/axe.min.js');

const widths = [360, 820, 1280];
const schemes = ['light', 'dark'];
const options = { pages: 2 };
const files = [];
for (const argument of process.argv.slice(2)) {
	const option = argument.match(/^--(pages|pictures)=(.*)$/);
	if (option)
		options[option[1]] = option[1] === 'pages' ? Number(option[2]) : option[2];
	else
		files.push(argument);
}

let complaints = 0;
let checks = 0;
const complain = (where, what) => {
	complaints++;
	console.log(`${where}: ${what}`);
};
const must = (holds, where, what) => {
	checks++;
	if (!holds)
		complain(where, what);
};

/* What the page itself shows of its layout. */
const look = () => {
	const tiny = [];
	const beyond = [];
	for (const e of document.querySelectorAll('body *')) {
		const own = [...e.childNodes].some((n) => n.nodeType === 3 && n.data.trim());
		const box = e.getBoundingClientRect();
		if (!own || !box.width || e.closest('.hidden, desc, title, style'))
			continue;
		const drawn = e.closest('svg');
		const scale = drawn ? drawn.getBoundingClientRect().width / drawn.viewBox.baseVal.width : 1;
		if (parseFloat(getComputedStyle(e).fontSize) * scale < 9)
			tiny.push(e.textContent.slice(0, 30));
		if (box.right > innerWidth + 1 && !e.closest('.scroll') && !e.closest('.skip'))
			beyond.push(e.textContent.slice(0, 30));
		if (drawn && (box.right > drawn.getBoundingClientRect().right + 1 || box.left < drawn.getBoundingClientRect().left - 1))
			beyond.push('drawn: ' + e.textContent.slice(0, 30));
	}
	return { wide: document.scrollingElement.scrollWidth, room: innerWidth, tiny, beyond };
};

/* Text of drawings against what it stands on: the uppermost shape with a plain fill below its middle, else the page. */
const drawnContrast = () => {
	const linear = (c) => (c <= 0.04045 ? c / 12.92 : ((c + 0.055) / 1.055) ** 2.4);
	const parse = (colour) => (colour.match(/[\d.]+/g) || []).map(Number);
	const light = (colour) => {
		const [r, g, b] = parse(colour).map((c) => linear(c / 255));
		return 0.2126 * r + 0.7152 * g + 0.0722 * b;
	};
	const page = getComputedStyle(document.body).backgroundColor;
	const poor = [];
	let count = 0;
	for (const text of document.querySelectorAll('svg text')) {
		text.scrollIntoView({ block: 'center', inline: 'center' });
		const box = text.getBoundingClientRect();
		const below = document.elementsFromPoint(box.left + box.width / 2, box.top + box.height / 2)
			.filter((e) => e.matches('svg *') && !e.matches('text') && /^rgb\(/.test(getComputedStyle(e).fill));
		const ground = light(below.length ? getComputedStyle(below[0]).fill : page);
		const ink = light(getComputedStyle(text).fill);
		const ratio = (Math.max(ground, ink) + 0.05) / (Math.min(ground, ink) + 0.05);
		count++;
		if (ratio < 4.5)
			poor.push(`${text.textContent.slice(0, 20)}: ${ratio.toFixed(2)}`);
	}
	return { count, poor };
};

const screens = async (page, file, name) => {
	for (const width of widths)
		for (const scheme of schemes) {
			const where = `${name} ${width} ${scheme}`;
			await page.emulateMediaType('screen');
			await page.emulateMediaFeatures([{ name: 'prefers-color-scheme', value: scheme }]);
			await page.setViewport({ width, height: 900 });
			await page.goto('file://' + path.resolve(file));
			const seen = await page.evaluate(look);
			must(seen.wide <= seen.room, where, `scrolls sideways: ${seen.wide} > ${seen.room}`);
			must(seen.beyond.length === 0, where, `stands out: ${seen.beyond.slice(0, 5).join(' | ')}`);
			must(seen.tiny.length === 0, where, `too small to read: ${seen.tiny.slice(0, 5).join(' | ')}`);
			const contrast = await page.evaluate(drawnContrast);
			checks += contrast.count;
			must(contrast.poor.length === 0, where, `drawn text too faint: ${contrast.poor.slice(0, 5).join(' | ')}`);
			await page.evaluate(fs.readFileSync(axe, 'utf8'));
			const found = await page.evaluate(() => axe.run(document, {
				resultTypes: ['violations', 'incomplete'],
				runOnly: ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa', 'best-practice'],
			}));
			checks += found.passes.length;
			for (const v of found.violations)
				complain(where, `${v.id}: ${v.help} (${v.nodes.length}): ${v.nodes[0].html.slice(0, 120)}`);
			for (const v of found.incomplete.filter((i) => i.id === 'color-contrast'))
				for (const n of v.nodes.filter((o) => !o.html.startsWith('<text'))) /* those are measured above */
					complain(where, `contrast not decided: ${n.html.slice(0, 120)}`);
			if (options.pictures)
				await page.screenshot({ path: path.join(options.pictures, `${name}-${width}-${scheme}.png`), fullPage: true });
		}
};

/* The page as text: the standard's grammar of HTML. */
const grammar = async (file, name) => {
	const { HtmlValidate } = from('html-validate');
	const validator = new HtmlValidate({
		root: true,
		extends: ['html-validate:standard', 'html-validate:a11y'],
		rules: {
			'void-style': ['error', { style: 'selfclose' }], /* well-formed XML, too */
			'long-title': 'off', /* a recipe may be called what it likes */
		},
	});
	const report = await validator.validateFile(file);
	checks++;
	for (const result of report.results)
		for (const m of result.messages)
			complain(name, `${m.line}:${m.column} ${m.ruleId}: ${m.message}`);
};

const prints = async (page, file, name) => {
	await page.emulateMediaType('print');
	await page.emulateMediaFeatures([{ name: 'prefers-color-scheme', value: 'light' }]);
	await page.goto('file://' + path.resolve(file));
	for (const format of ['A4', 'Letter']) {
		const bytes = Buffer.from(await page.pdf({ format, printBackground: false, preferCSSPageSize: false }));
		const pages = (bytes.toString('latin1').match(/\/Type\s*\/Page\b(?!s)/g) || []).length;
		must(pages > 0 && pages <= options.pages, `${name} ${format}`, `${pages} pages`);
		console.log(`${name} ${format}: ${pages} pages`);
		if (options.pictures)
			fs.writeFileSync(path.join(options.pictures, `${name}-${format}.pdf`), bytes);
	}
};

(async () => {
	const browser = await puppeteer.launch({
		executablePath: process.env.CHROMIUM || '/usr/bin/chromium',
		args: ['--no-sandbox', '--disable-gpu', '--font-render-hinting=none'],
	});
	try {
		for (const file of files) {
			const page = await browser.newPage();
			const name = path.basename(file, '.html');
			page.on('console', (m) => ['error', 'warning'].includes(m.type()) && complain(name, `browser says: ${m.text()}`));
			page.on('request', (r) => r.url().startsWith('file:') || complain(name, `asks for ${r.url()}`));
			await grammar(file, name);
			await page.setBypassCSP(true);
			await screens(page, file, name);
			await prints(page, file, name);
			await page.close();
		}
	} finally {
		await browser.close();
	}
	console.log(`summary: ${files.length} pages, ${checks} checks, ${complaints} complaints`);
	process.exitCode = complaints || !files.length ? 1 : 0;
})();
