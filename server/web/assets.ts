import { createHash } from 'node:crypto';
import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import type { FastifyInstance } from 'fastify';

const ASSETS_FOLDER = new URL('../../views/assets/', import.meta.url);
const HTMX_FILE = createRequire(import.meta.url).resolve('htmx.org/dist/htmx.min.js');

const STYLES = [
  'base',
  'masthead',
  'slips',
  'forms',
  'fields',
  'result',
  'tables',
  'drawings',
  'shelf',
  'wall',
  'garments',
  'garment-form',
  'garment-pictures',
  'garment-pages',
  'sewing',
  'by-when',
  'short',
  'bench',
  'today',
  'cutting-table',
  'cut-plans',
  'lays',
  'dye-bench',
  'bench-sheet',
  'dye-amounts',
  'dye-pot',
  'dye-record',
  'labels',
  'lists',
  'cost',
  'buying',
  'network',
  'photos',
  'together',
  'swatch-book',
  'unsent',
  'pulse',
  'sampler',
  'print',
];

// Unsent work takes a form before what looks after other forms sees it.
const SCRIPTS = [
  'unsent-rules.js',
  'unsent-store.js',
  'unsent-slips.js',
  'unsent.js',
  'pulse.js',
  'clothroom.js',
  'timer.js',
  'photo-marks.js',
  'signing-in.js',
  'not-lost.js',
];

const ASSETS = {
  css: {
    name: 'clothroom.css',
    type: 'text/css; charset=utf-8',
    files: STYLES.map((name) => ours(`${name}.css`)),
  },
  js: {
    name: 'clothroom.js',
    type: 'text/javascript; charset=utf-8',
    files: SCRIPTS.map((name) => ours(name)),
  },
  htmx: {
    name: 'htmx.js',
    type: 'text/javascript; charset=utf-8',
    files: [HTMX_FILE],
  },
  icon: {
    name: 'clothroom.svg',
    type: 'image/svg+xml',
    files: [ours('clothroom.svg')],
  },
} as const;

export type AssetKey = keyof typeof ASSETS;

interface Loaded {
  type: string;
  hash: string;
  content: Buffer;
}

// Few small files: read once at start, so that no request touches the disk or names a path.
const loaded = new Map<string, Loaded>(
  Object.values(ASSETS).map(({ name, type, files }) => {
    const content = Buffer.concat(files.map((file) => readFileSync(file)));
    const hash = createHash('sha256').update(content).digest('hex').slice(0, 12);
    return [name, { type, hash, content }];
  }),
);

function ours(name: string): URL {
  return new URL(name, ASSETS_FOLDER);
}

/** The address of an asset; it holds a hash of the content, so browsers may keep it for good. */
export function asset(key: AssetKey): string {
  const { name } = ASSETS[key];
  return `/assets/${loaded.get(name)?.hash}/${name}`;
}

/** The addresses that the layout needs, for `shell.assets`. */
export const ASSET_LINKS: Record<AssetKey, string> = {
  css: asset('css'),
  js: asset('js'),
  htmx: asset('htmx'),
  icon: asset('icon'),
};

/** Adds `GET /assets/<hash>/<name>`. An old hash gets today's file, not to be kept. */
export function serveAssets(app: FastifyInstance): void {
  const open = { config: { rule: 'open' } } as const;
  app.get<{ Params: { hash: string; name: string } }>('/assets/:hash/:name', open, (request, reply) => {
    const file = loaded.get(request.params.name);
    if (!file) return reply.callNotFound();
    const keep = file.hash === request.params.hash ? 'public, max-age=31536000, immutable' : 'no-cache';
    return reply.header('cache-control', keep).type(file.type).send(file.content);
  });
}
