import { describe, expect, it } from 'vitest';
import { formatQuantity } from '../../engine/base/format-quantity.ts';
import { channelReport } from '../../engine/channel/channel-report.ts';
import { checkDesign } from '../../engine/check/check-design.ts';
import { simulate } from '../../engine/simulate/simulate.ts';
import { browserPath, openJudged, openRaw, settled } from './chromium.ts';
import { visiting } from './visiting.ts';

const SMALL = {
  name: 'Sixteen cores',
  core: { preset: 'ferrite-20-mil' },
  mat: { rows: 4, columns: 4 },
  winding: { kind: 'shared-one-run' },
  selected: { row: 1, column: 2 },
};

describe.skipIf(browserPath === undefined)('history, recovery, words and supply on the page', () => {
  const visit = visiting();

  it('shows the numbers that the engine gives, and says when they are of the inputs before', async () => {
    const { disturb, build } = channelReport(checkDesign(SMALL), { simulate });
    const { page } = await openJudged(visit.browser, `${visit.server.url}#/plan/warnings`);
    await openRaw(page, SMALL);
    await page.getByRole('heading', { level: 1, name: SMALL.name }).waitFor();
    await settled(page);
    const part = page.locator('details.more', { hasText: 'History, recovery, words and supply' });
    await part.locator('> summary').click();
    await part.getByRole('button', { name: 'Run it' }).click();
    await part.getByText('Done.').waitFor({ timeout: 120_000 });
    const row = part.getByRole('row', { name: /Disturbed ONE, dV1/u });
    expect((await row.getByRole('cell').allInnerTexts())[0]).toBe(formatQuantity(disturb.dV1.peak, 'V', 3));
    expect(await part.innerText()).toContain(`${build.drivers.withInhibit} drivers with inhibit`);
    // Another mat: what is shown is no longer of these inputs.
    await openRaw(page, { ...SMALL, mat: { rows: 6, columns: 4 } }, 'other.json');
    await part.getByText('Stale: of the inputs before.').waitFor();
    await page.close();
  });
});
