// Makes reference landmarks: draws the stills that stills.json names from our own scripts, runs the original package's own
// WebAssembly on them in headless Chromium, and writes what it says to reference.json beside this file. Needs
// third_party/setup.sh to have run (it installs Debian's chromium and the package).
//
//   node make_reference.mjs RENDER_SAMPLE        the built generator, e.g. build/dev/bin/render_sample
//
// The output lists, per still, 33 x [x, y, visibility], x and y as shares of the picture's width and height, and the mean
// colours of 6 x 6 blocks, by which a test notices that a still is not the same picture any more.
import {createServer} from 'node:http';
import {mkdtemp, readFile, rm, writeFile} from 'node:fs/promises';
import {execFileSync, spawn} from 'node:child_process';
import {tmpdir} from 'node:os';
import path from 'node:path';
import {fileURLToPath} from 'node:url';

const [renderSample] = process.argv.slice(2);
if (!renderSample) {
  console.error('usage: node make_reference.mjs RENDER_SAMPLE');
  process.exit(2);
}
const here = path.dirname(fileURLToPath(import.meta.url));
const root = path.join(here, '../../..');
const packageFolder = path.join(root, 'third_party/node_modules/@mediapipe/pose');
const stills = JSON.parse(await readFile(path.join(here, 'stills.json'), 'utf8'));
const names = stills.map((still) => still.name);
const stillsFolder = await mkdtemp(path.join(tmpdir(), 'quarterturn-stills-'));
for (const {name, script, second} of stills) {
  execFileSync(renderSample, [path.join(root, 'sample_clips/scripts', script), '--still-at', String(second),
                              '--still', path.join(stillsFolder, name)]);
}
const kinds = {'.js': 'text/javascript', '.wasm': 'application/wasm', '.html': 'text/html', '.png': 'image/png'};

async function body(request) {
  const parts = [];
  for await (const part of request) parts.push(part);
  return Buffer.concat(parts).toString();
}

function fileFor(url) {
  if (url === '/') return path.join(here, 'page.html');
  if (url.startsWith('/package/')) return path.join(packageFolder, path.basename(url));
  if (url.startsWith('/stills/')) return path.join(stillsFolder, path.basename(url));
  return null;
}

let finish;
const finished = new Promise((resolve, reject) => { finish = {resolve, reject}; });

async function answer(request, response) {
  const url = decodeURIComponent(new URL(request.url, 'http://localhost').pathname);
  if (request.method === 'POST') {
    const text = await body(request);
    response.end();
    if (url === '/answers') finish.resolve(JSON.parse(text));
    if (url === '/failure') finish.reject(new Error(text));
    if (url === '/progress') console.log(text);
    return;
  }
  if (url === '/stills.json') return response.end(JSON.stringify(names));
  const file = fileFor(url);
  try {
    const content = await readFile(file);
    response.setHeader('Content-Type', kinds[path.extname(file)] ?? 'application/octet-stream');
    response.end(content);
  } catch {
    response.statusCode = 404;
    response.end();
  }
}

const server = createServer((request, response) => answer(request, response).catch(finish.reject));
await new Promise((resolve) => server.listen(0, '127.0.0.1', resolve));
const profile = await mkdtemp(path.join(tmpdir(), 'quarterturn-chromium-'));
const browser = spawn('chromium', [
  '--headless', '--no-sandbox', '--disable-quic', '--no-first-run', '--disable-background-networking',
  '--disable-component-update', '--disable-sync', '--use-gl=angle', '--use-angle=swiftshader',
  '--enable-unsafe-swiftshader', `--user-data-dir=${profile}`, `http://127.0.0.1:${server.address().port}/`,
], {stdio: 'ignore'});
browser.on('error', finish.reject);
const timer = setTimeout(() => finish.reject(new Error('no answer within 15 minutes')), 15 * 60 * 1000);

try {
  const answers = await finished;
  const rounded = answers.map(({name, width, height, blocks, landmarks}) => ({
    name, width, height, blocks,
    landmarks: landmarks && landmarks.map((point) => point.map((value) => Number(value.toFixed(5)))),
  }));
  const lines = rounded.map((still) => '  ' + JSON.stringify(still));
  await writeFile(path.join(here, 'reference.json'), `{"package": "@mediapipe/pose 0.5.1675469404", "model": "full", "stills": [\n${lines.join(',\n')}\n]}\n`);
  console.log(`${rounded.length} stills, ${rounded.filter((still) => still.landmarks).length} with a body`);
} finally {
  clearTimeout(timer);
  browser.kill();
  await new Promise((resolve) => browser.exitCode === null && browser.signalCode === null ? browser.on('exit', resolve) : resolve());
  server.close();
  await rm(profile, {recursive: true, force: true, maxRetries: 5, retryDelay: 200});
  await rm(stillsFolder, {recursive: true, force: true});
}
