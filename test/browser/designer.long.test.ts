import type { Page } from 'playwright-core';
import { describe, expect, it } from 'vitest';
import { browserPath, openDrawer, openJudged, settledAfter } from './chromium.ts';
import { visiting } from './visiting.ts';

describe.skipIf(browserPath === undefined)('every input of the design', () => {
  const visit = visiting();

  const open = async (): Promise<Page> => {
    const { page } = await openJudged(visit.browser, `${visit.server.url}#/plan/inputs`);
    await page.locator('#editor').waitFor();
    return page;
  };

  it('stands with a label, its unit and range, and help that says what it is', async () => {
    const page = await open();
    const fields = await page.locator('.editor-fields > .field').all();
    expect(fields.length).toBeGreaterThan(80);
    const texts = await page.locator('.editor-fields > .field').allInnerTexts();
    expect(texts.filter((text) => text.trim().split('\n').length < 2)).toEqual([]);
    const rise = page.locator('.field:has(#field-drive-x-rise)');
    expect(await rise.innerText()).toMatch(/Takes from .* to .*s\./);
    await page.locator('#editor-filter').fill('hysteresis');
    // What is typed is taken up in the next frame.
    await expect.poll(() => page.locator('.editor-fields > .field:visible').count()).toBeLessThan(4);
    expect(await page.locator('.editor-fields > .field:visible').count()).toBeGreaterThan(0);
    await page.context().close();
  });

  it('keeps a value as it was typed, unit and comma included', async () => {
    const page = await open();
    const field = page.locator('#field-drive-x-rise');
    await field.fill('0,06 us');
    await field.press('Enter');
    await settledAfter(page);
    expect(await field.inputValue()).toBe('0,06 us');
    await page.context().close();
  });

  it('warns beside the input that causes it, with the number and the remedy', async () => {
    const { page } = await openJudged(visit.browser, `${visit.server.url}#/plan?open=drivers`);
    const drive = page.locator('#part-drive-x-readAmplitude');
    const warning = page.locator('.field', { has: drive }).locator('.field-warning');
    expect(await warning.isVisible()).toBe(false);
    await drive.fill('220 mA');
    await drive.press('Enter');
    await settledAfter(page);
    await expect.poll(() => warning.innerText()).toMatch(/\d.*\. [A-Z].*\.$/s);
    expect(await drive.getAttribute('aria-describedby')).toBe(await warning.getAttribute('id'));
    const said = (await warning.innerText()).trim().slice(0, 40);
    await expect.poll(() => page.locator('[data-tab=warnings]').innerText()).toMatch(/[1-9]/);
    expect(await (await openDrawer(page, 'warnings')).innerText()).toContain(said);
    await page.context().close();
  });

  it('takes a list as rows by keyboard: add, edit, move, remove, undo', async () => {
    const page = await open();
    const list = page.getByRole('group', { name: 'Programme' });
    const add = list.getByRole('button', { name: 'Add a cycle' });
    const rows = list.locator('tbody tr');
    const cell = (name: string) => list.getByLabel(name, { exact: true });
    await add.press('Enter');
    await expect.poll(() => rows.count()).toBe(1);
    await expect.poll(() => page.evaluate(() => document.activeElement?.ariaLabel)).toBe('Cycle 0, row');
    await page.keyboard.press('Control+A');
    await page.keyboard.type('5');
    await page.keyboard.press('Tab');
    await add.press('Enter');
    await expect.poll(() => rows.count()).toBe(2);
    await cell('Cycle 1, column').fill('9');
    await cell('Cycle 1, column').press('Enter');
    await cell('Cycle 1, write').selectOption('one');
    await list.getByRole('button', { name: 'Move up cycle 1' }).press('Enter');
    await expect.poll(() => cell('Cycle 0, column').inputValue()).toBe('9');
    expect(await cell('Cycle 0, write').inputValue()).toBe('one');
    await page.getByRole('button', { name: 'Undo' }).click();
    await expect.poll(() => cell('Cycle 1, write').inputValue()).toBe('one');
    await list.getByRole('button', { name: 'Remove cycle 1' }).press('Enter');
    await expect.poll(() => rows.count()).toBe(1);
    await list.getByRole('button', { name: 'Leave it out' }).click();
    await expect.poll(() => rows.count()).toBe(0);
    await page.context().close();
  });

  it('says beside a list which cell is refused and why, and runs again once it is mended', async () => {
    const page = await open();
    const list = page.getByRole('group', { name: 'Exceptions' });
    await list.getByRole('button', { name: 'Add a core' }).click();
    await settledAfter(page);
    const bias = list.getByLabel('Core 0, bias', { exact: true });
    await bias.fill('2');
    await bias.press('Enter');
    const field = page.locator('.list-field', { has: list });
    await expect
      .poll(() => field.locator('.field-error').innerText())
      .toMatch(/must be a current from .* to .*bare number.*write for example/s);
    expect(await bias.getAttribute('aria-invalid')).toBe('true');
    expect(await bias.inputValue()).toBe('2');
    await expect
      .poll(() => page.locator('.cell[data-set=nominal]').innerText())
      .toContain('before this change');
    await bias.fill('2 A');
    await bias.press('Enter');
    await settledAfter(page);
    expect(await bias.getAttribute('aria-invalid')).toBe('false');
    await page.context().close();
  });
});
