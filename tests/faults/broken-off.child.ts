import { readMigrationSteps } from '../../server/database/migrate.ts';
import { openBook } from '../../server/database/open.ts';

// Brings a book up to date, and is killed as it comes to the step of this number.
const [folder = '', at = ''] = process.argv.slice(2);
const steps = readMigrationSteps().map((step) => ({
  ...step,
  get sql() {
    if (step.number === Number(at)) process.kill(process.pid, 'SIGKILL');
    return step.sql;
  },
}));
await openBook(folder, { clock: () => new Date(), steps });
