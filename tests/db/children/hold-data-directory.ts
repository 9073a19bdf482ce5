import { lockDataDirectory } from '../../../db/engine/data-directory-lock.ts';

/** Waits for a word, tries to take the directory, says how it went, and holds it until it is told to leave or killed. */
process.on('message', (word) => {
  if (word === 'leave') process.exit(0);
  try {
    const lock = lockDataDirectory(process.argv[2] ?? '', new Date());
    lock.announce('http://127.0.0.1:4999');
    process.on('exit', () => lock.release());
    process.send?.('held');
  } catch (error) {
    process.send?.(error instanceof Error ? `${error.name}: ${error.message}` : String(error));
  }
});
process.send?.('ready');
