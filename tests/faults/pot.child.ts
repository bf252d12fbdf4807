import { writeSync } from 'node:fs';
import { openBook } from '../../server/database/open.ts';
import { finishStep, logReading } from '../../server/dye-bench/pot/log-verbs.ts';

// Begins a bath, logs a temperature, tells of it, and stays: until it is killed.
const [folder = '', code = ''] = process.argv.slice(2);
const book = await openBook(folder, { clock: () => new Date() });
const write = (key: string, work: Parameters<typeof book.write>[1]) =>
  book.write({ key: `pot-${process.pid}-${key}`, asked: null, personId: 1 }, work);
write('begin', (tx) => {
  const form = { bath: { value: 1, typed: '1' }, step: 'begin', water: '', skip_hold: false, things: [] };
  return finishStep(tx, code, form);
});
write('logged', (tx) => logReading(tx, code, { bath: 1, kind: 'temperature', value: 41 }));
writeSync(1, `${new Date().toISOString()}\n`);
setInterval(() => {}, 1000);
