import { homedir } from 'node:os';
import { join } from 'node:path';
import { buildApp } from './app.ts';
import { openBook } from './database/open.ts';

const folder = process.env.CLOTHROOM_DATA ?? join(homedir(), '.local/share/clothroom');
const book = await openBook(folder, { clock: () => new Date() });
const app = buildApp(book, true);
await app.listen({ host: '127.0.0.1', port: Number(process.env.PORT ?? 8737) });
