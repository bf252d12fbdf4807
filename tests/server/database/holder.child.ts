import { openBook } from '../../../server/database/open.ts';

// Opens the book in a folder, says so, and holds it until it is killed.
const [folder = ''] = process.argv.slice(2);
await openBook(folder, { clock: () => new Date() });
console.log('open');
setInterval(() => undefined, 60_000);
