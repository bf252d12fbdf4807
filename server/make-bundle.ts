import { renameSync, writeFileSync } from 'node:fs';
import { fileURLToPath, pathToFileURL } from 'node:url';
import { rolldown } from 'rolldown';
import { BUNDLE, BUNDLE_KEY, BUNDLE_MAP, CACHE, keyOfSources, MAIN } from './bundle.ts';

// Puts the program into one file: node server/make-bundle.ts

const key = keyOfSources();
const part = `program-${process.pid}.js`;
const made = await rolldown({
  input: fileURLToPath(MAIN),
  platform: 'node',
  // The first finds its binary beside itself; the others are large, and seldom asked for.
  external: [
    'better-sqlite3',
    '@zxcvbn-ts/core',
    '@zxcvbn-ts/language-common',
    '@peculiar/x509',
    'reflect-metadata',
  ],
  plugins: [
    {
      // Views, migrations and processes are found from where the source lies.
      name: 'place-of-source',
      transform: {
        filter: { code: 'import.meta.url' },
        handler: (code, id) => ({
          code: code.replaceAll('import.meta.url', JSON.stringify(pathToFileURL(id).href)),
          map: null,
        }),
      },
    },
  ],
});
await made.write({
  dir: fileURLToPath(CACHE),
  entryFileNames: part,
  codeSplitting: false,
  // One letter beyond ASCII, and the engine would keep the whole text at two bytes a letter.
  charset: 'ascii',
  comments: false,
  // The engine keeps the whole text in memory: half is room between words, a quarter names of variables. Those of functions
  // and classes stay, for stack traces.
  minify: { compress: false, mangle: { keepNames: true }, codegen: { removeWhitespace: true } },
  sourcemap: 'hidden',
  sourcemapExcludeSources: true,
});
// One that starts meanwhile finds a whole file or none, and the key last.
renameSync(new URL(part, CACHE), BUNDLE);
renameSync(new URL(`${part}.map`, CACHE), BUNDLE_MAP);
writeFileSync(BUNDLE_KEY, key);
