// Checks one output folder: every scene with the standard glTF validator, every page in a browser at two widths, with an
// accessibility audit. Usage: node check.mjs OUTPUT_FOLDER SCREENSHOT_FOLDER
import { readdirSync, readFileSync, mkdirSync, existsSync, statSync } from 'node:fs';
import { join, relative } from 'node:path';
import { pathToFileURL } from 'node:url';
import { createRequire } from 'node:module';
import validator from 'gltf-validator';
import { chromium } from 'playwright-core';

const require = createRequire(import.meta.url);
const [folder, shots] = process.argv.slice(2);
if (!folder || !existsSync(folder)) {
  console.error('usage: node check.mjs OUTPUT_FOLDER SCREENSHOT_FOLDER');
  process.exit(2);
}

let passed = 0;
let failed = 0;
function expect(ok, what) {
  if (ok) {
    passed++;
  } else {
    failed++;
    console.log(`FAILED ${what}`);
  }
}

const files = readdirSync(folder, { recursive: true }).map(String).filter(f => statSync(join(folder, f)).isFile()).sort();
const scenes = files.filter(f => f.endsWith('.glb'));
const pages = files.filter(f => f.endsWith('.html'));
expect(scenes.length > 0, 'there is a scene');
expect(pages.length > 0, 'there is a page');

for (const scene of scenes) {
  const report = await validator.validateBytes(new Uint8Array(readFileSync(join(folder, scene))));
  const { numErrors, numWarnings, messages } = report.issues;
  expect(numErrors === 0 && numWarnings === 0, `${scene}: ${JSON.stringify(messages.slice(0, 3))}`);
}

const axe = readFileSync(require.resolve('axe-core/axe.min.js'), 'utf8');
mkdirSync(shots ?? join(folder, 'screenshots'), { recursive: true });
const browser = await chromium.launch({
  executablePath: process.env.CHROMIUM ?? '/usr/bin/chromium',
  args: ['--no-sandbox', '--disable-gpu', '--disable-quic', '--no-first-run', '--disable-background-networking', '--disable-component-update', '--disable-sync'],
});
for (const file of pages) {
  const context = await browser.newContext({ viewport: { width: 1280, height: 900 }, locale: 'en-GB' });
  const page = await context.newPage();
  const complaints = [];
  const requests = [];
  page.on('console', m => m.type() === 'error' && complaints.push(m.text()));
  page.on('pageerror', e => complaints.push(String(e)));
  page.on('request', r => /^https?:/.test(r.url()) && requests.push(r.url()));
  await page.goto(pathToFileURL(join(folder, file)).href, { waitUntil: 'load' });
  expect(complaints.length === 0, `${file}: the page complains: ${complaints.join('; ')}`);
  expect(requests.length === 0, `${file}: the page is not self-contained: ${requests.join('; ')}`);

  for (const width of [1280, 420]) {
    await page.setViewportSize({ width, height: 900 });
    const overflow = await page.evaluate(() => document.documentElement.scrollWidth - document.documentElement.clientWidth);
    expect(overflow <= 1, `${file}: at ${width} px the page is ${overflow} px too wide`);
    const png = await page.screenshot({ path: join(shots ?? join(folder, 'screenshots'), `${relative('.', file).replace(/\W+/g, '-')}-${width}.png`), fullPage: true });
    expect(png.length > 20000, `${file}: the screenshot at ${width} px is nearly empty`);
  }

  await page.setViewportSize({ width: 1280, height: 900 });
  await page.evaluate(axe);
  const result = await page.evaluate(() => globalThis.axe.run(document, { resultTypes: ['violations'] }));
  for (const v of result.violations) {
    console.log(`  ${v.id}: ${v.help} (${v.nodes.length}) ${v.nodes[0]?.html?.slice(0, 160)}`);
  }

  expect(result.violations.length === 0, `${file}: ${result.violations.length} accessibility violations`);
  const images = await page.evaluate(() => [...document.querySelectorAll('img')].filter(i => !i.alt || i.naturalWidth === 0).length);
  expect(images === 0, `${file}: ${images} pictures without words or without content`);
  await context.close();
}

await browser.close();
console.log(`web: ${passed} passed, ${failed} failed`);
process.exit(failed === 0 ? 0 : 1);
