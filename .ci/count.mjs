// Adds up the reports that the test runner left in .results/, names what failed once more (the end of a long output
// is what is kept of it) and prints the closing line.
import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { relative } from 'node:path';

const earlier = Number(process.argv[2]);
const reports = existsSync('.results')
  ? readdirSync('.results').filter((name) => name.endsWith('.json'))
  : [];
const firstLines = (text) => String(text).split('\n').slice(0, 6).join('\n    ');
let passed = 0;
let skipped = 0;
const failures = [];
for (const name of reports) {
  const report = JSON.parse(readFileSync(`.results/${name}`, 'utf8'));
  passed += report.numPassedTests;
  skipped += report.numPendingTests ?? 0;
  const before = failures.length;
  for (const { name: path, status, message, assertionResults } of report.testResults) {
    const file = relative('.', path);
    const failed = assertionResults.filter((test) => test.status === 'failed');
    for (const { fullName, failureMessages } of failed)
      failures.push(`${file}: ${fullName}\n    ${firstLines(failureMessages[0])}`);
    // A file that did not get as far as its tests.
    if (status === 'failed' && failed.length === 0)
      failures.push(`${file} before its tests ${firstLines(message)}`);
  }
  if (!report.success && failures.length === before) failures.push(`${name}: the run did not succeed`);
}
// A step before the tests (build, types, lint), or one that was ended, is a failure too.
if (earlier !== 0 && failures.length === 0) failures.push('a step of the run failed; see above');
for (const failure of failures) console.log(`FAILED  ${failure}`);
console.log(`${passed} passed, ${failures.length} failed, ${skipped} skipped`);
process.exit(failures.length > 0 || passed === 0 ? 1 : 0);
