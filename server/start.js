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
  // Halves the work of a start. Kept with the packages, where only who may change the program can write; where the
  // folder cannot be written, Node says so in its answer and the program starts without it.
  nodeModule.enableCompileCache(fileURLToPath(new URL('../node_modules/.cache/clothroom', import.meta.url)));
  import('./main.ts');
}
