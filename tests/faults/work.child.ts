import { join } from 'node:path';
import { copierOf } from '../../server/copies/copier.ts';
import { putBack } from '../../server/copies/put-back.ts';
import { openBook } from '../../server/database/open.ts';
import { CertificateStore } from '../../server/network/certificate/store.ts';
import { Pictures } from '../../server/shelf/photo/pictures.ts';

// Does one of the things that change files beside the writing itself, and says in a line when it is done. What is named
// last is the copy that is put back, or the second place of the copies.
const [work = '', folder = '', place = ''] = process.argv.slice(2);
const clock = () => new Date();

if (work === 'restore') {
  putBack(place, folder, clock().toISOString());
} else if (work === 'certify') {
  await new CertificateStore(join(folder, 'certificate'), clock).certify(['192.168.1.20']);
} else {
  const book = await openBook(folder, { clock });
  if (work === 'photo') {
    const sha256 = 'a'.repeat(64);
    new Pictures(book).keep({ sha256, jpeg: new Uint8Array(100), widthPx: 10, heightPx: 10 });
  }
  if (work === 'copy') {
    const copier = copierOf(book);
    if (place !== '') copier.setRules({ hour: 3, second: place });
    await copier.copy(true);
    await copier.close();
    const failures = [copier.record.made?.failure, copier.record.carried?.failure ?? ''].filter(Boolean);
    if (copier.record.made === null || failures.length > 0) throw new Error(failures.join());
  }
  book.close();
}
console.log('done');
