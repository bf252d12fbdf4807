#!/usr/bin/env node
// Plain JavaScript, so that a Node too old to read the program's TypeScript can still say so.
import * as nodeModule from 'node:module';
import { fileURLToPath } from 'node:url';

const LEAST = [22, 18];

const [major, minor] = process.versions.node.split('.').map(Number);
if (major < LEAST[0] || (major === LEAST[0] && minor < LEAST[1])) {
  process.stderr.write(
    `clothroom: needs Node ${LEAST.join('.')} or newer, and this is ${process.versions.node}; "npm start" brings its own\n`,
  );
  process.exitCode = 1;
} else {
  // What Node compiles is kept beside the bundle. Where the folder cannot be written, the program starts without both.
  nodeModule.enableCompileCache(fileURLToPath(new URL('../.cache/compiled', import.meta.url)));
  import('./bundle.ts').then(({ bundled }) => import(bundled() ?? './main.ts'));
}
