import { copierOf } from '../../server/copies/copier.ts';
import { putBack } from '../../server/copies/put-back.ts';
import { openBook } from '../../server/database/open.ts';

// Does one of the things that change files beside the writing itself, and says in a line when it is done.
const [work = '', folder = '', copy = ''] = process.argv.slice(2);
if (work === 'restore') {
  putBack(copy, folder, new Date().toISOString());
} else {
  const book = await openBook(folder, { clock: () => new Date() });
  if (work === 'copy') {
    const copier = copierOf(book);
    await copier.copy(true);
    await copier.close();
    if (copier.record.made?.failure !== '') throw new Error(copier.record.made?.failure);
  }
  book.close();
}
console.log('done');
