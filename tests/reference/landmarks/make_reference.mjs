// Makes reference landmarks: runs the original package's own WebAssembly in headless Chromium on a folder of PNG stills
// and writes what it says as JSON. Needs third_party/setup.sh to have run, and Debian's chromium.
//
//   node make_reference.mjs STILLS_FOLDER OUTPUT.json
//
// The output lists, per still in name order, 33 x [x, y, visibility]; x and y are shares of the picture's width and height.
import {createServer} from 'node:http';
import {mkdtemp, readFile, readdir, rm, writeFile} from 'node:fs/promises';
import {spawn} from 'node:child_process';
import {tmpdir} from 'node:os';
import path from 'node:path';
import {fileURLToPath} from 'node:url';

const [stillsFolder, output] = process.argv.slice(2);
if (!stillsFolder || !output) {
  console.error('usage: node make_reference.mjs STILLS_FOLDER OUTPUT.json');
  process.exit(2);
}
const here = path.dirname(fileURLToPath(import.meta.url));
const packageFolder = path.join(here, '../../../third_party/node_modules/@mediapipe/pose');
const names = (await readdir(stillsFolder)).filter((name) => name.endsWith('.png')).sort();
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
  const rounded = answers.map(({name, width, height, landmarks}) => ({
    name, width, height,
    landmarks: landmarks && landmarks.map((point) => point.map((value) => Number(value.toFixed(5)))),
  }));
  const lines = rounded.map((still) => '  ' + JSON.stringify(still));
  await writeFile(output, `{"package": "@mediapipe/pose 0.5.1675469404", "model": "full", "stills": [\n${lines.join(',\n')}\n]}\n`);
  console.log(`${rounded.length} stills, ${rounded.filter((still) => still.landmarks).length} with a body`);
} finally {
  clearTimeout(timer);
  browser.kill();
  await new Promise((resolve) => browser.exitCode === null && browser.signalCode === null ? browser.on('exit', resolve) : resolve());
  server.close();
  await rm(profile, {recursive: true, force: true, maxRetries: 5, retryDelay: 200});
}
