#!/usr/bin/env node
// Plain JavaScript, so that a Node too old to read the program's TypeScript can still say so.
const LEAST = [22, 18];

const [major, minor] = process.versions.node.split('.').map(Number);
if (major < LEAST[0] || (major === LEAST[0] && minor < LEAST[1])) {
  process.stderr.write(
    `clothroom: needs Node ${LEAST.join('.')} or newer, and this is ${process.versions.node}; "npm start" brings its own\n`,
  );
  process.exitCode = 1;
} else {
  import('./main.ts');
}
