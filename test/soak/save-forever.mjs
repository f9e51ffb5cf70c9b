// Saves large designs under two names until it is killed; tells after each save which version is whole.
import { openSavedFiles } from '../../dist/server/saved-files.js';
import { createHash } from 'node:crypto';

const saved = openSavedFiles({ folder: process.argv[2], extension: 'json', names: 10, versions: 5 });
process.stdout.write('ready\n');
for (let i = 0; ; i++) {
  const text = `${process.pid} ${i} `.repeat(20_000);
  const content = Buffer.from(JSON.stringify({ text, sum: createHash('sha256').update(text).digest('hex') }));
  const name = i % 2 === 0 ? 'even' : 'odd';
  const { version } = await saved.save(name, content);
  process.stdout.write(`${name} ${version}\n`);
}
