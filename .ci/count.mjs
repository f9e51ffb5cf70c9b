// Adds up the reports that the test runner left in .results/ and prints the closing line.
import { existsSync, readdirSync, readFileSync } from 'node:fs';

const earlier = Number(process.argv[2]);
const reports = existsSync('.results')
  ? readdirSync('.results').filter((name) => name.endsWith('.json'))
  : [];
let passed = 0;
let failed = 0;
let skipped = 0;
for (const name of reports) {
  const report = JSON.parse(readFileSync(`.results/${name}`, 'utf8'));
  passed += report.numPassedTests;
  failed += report.numFailedTests + (report.numFailedTests === 0 && !report.success ? 1 : 0);
  skipped += report.numPendingTests ?? 0;
}
// A step before the tests (build, types, lint) that fails is a failure too.
if (earlier !== 0 && failed === 0) failed = 1;
console.log(`${passed} passed, ${failed} failed, ${skipped} skipped`);
process.exit(failed > 0 || passed === 0 ? 1 : 0);
