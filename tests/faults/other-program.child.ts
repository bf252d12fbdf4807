import BetterSqlite3 from 'better-sqlite3';

// Some other program: runs a statement on the book, says what came of it, and keeps it open until it is killed.
const [file = '', sql = ''] = process.argv.slice(2);
const connection = new BetterSqlite3(file, { timeout: 0 });
try {
  connection.exec(sql);
  console.log('held');
} catch (error) {
  console.log((error as { code: string }).code);
}
// A connection that nobody knows any more is closed by and by.
setInterval(() => connection.open, 60_000);
