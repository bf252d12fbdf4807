import { copyFileSync } from 'node:fs';
import { join } from 'node:path';

// Copies files of an open book as they are on the disk, as if its process had been killed.
const [from = '', to = '', ...names] = process.argv.slice(2);
for (const name of names) {
  copyFileSync(join(from, name), join(to, name));
  console.log(name);
}
