import { mkdir } from 'node:fs/promises';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import type { Browser, Page } from 'playwright-core';
import { launch, openPage, settled } from './chromium.ts';
import { servePage } from './page-server.ts';

/** Pictures of the page: to look at (`npm run shots`, into .shots/) or for the README (`npm run pictures`). */
const top = fileURLToPath(new URL('../..', import.meta.url));
const forReadme = process.argv.includes('pictures');
const folder = forReadme ? join(top, 'fixtures', 'pictures') : join(top, '.shots');
const SCHEMES = ['light', 'dark'] as const;

const view = async (page: Page, name: string): Promise<void> => {
  await page.getByRole('button', { name, exact: true }).click();
  await page.getByRole('heading', { level: 1 }).last().waitFor();
};

/** Takes the invented capture of a ONE, which is then laid over what the design predicts. */
async function takeCapture(page: Page): Promise<void> {
  await view(page, 'Bench');
  await page.getByRole('button', { name: 'a ONE', exact: true }).click();
  await page.getByRole('button', { name: 'Take this capture' }).click();
  await page.locator('section', { hasText: 'Against the prediction' }).locator('svg.chart').first().waitFor();
}

async function revealAll(page: Page): Promise<void> {
  await view(page, 'Learn');
  for (const step of await page.locator('.step').all()) {
    await step.getByRole('radio').first().check();
    await step.getByRole('button', { name: 'Reveal' }).click();
  }
}

/** Everything, at three widths in both themes, with the demo designs and every panel opened at the widest. */
async function lookAtAll(browser: Browser, url: string): Promise<void> {
  for (const colorScheme of SCHEMES)
    for (const width of [1280, 768, 320]) {
      const { page } = await openPage(browser, url, { viewport: { width, height: 900 }, colorScheme });
      const shoot = (name: string) =>
        page.screenshot({ path: join(folder, `${colorScheme}-${width}${name}.png`), fullPage: true });
      await shoot('');
      if (width === 1280)
        for (const demo of ['classroom-board-4x4', 'carillon-sequencer-64x64', 'supply-rig-8x8x8']) {
          await page.locator('#demo').selectOption(demo);
          await settled(page);
          await shoot(`-${demo}`);
        }
      for (const summary of await page.locator('.plan details.editor > summary').all()) await summary.click();
      await page.locator('.opening svg.chart').waitFor();
      await shoot('-opened');
      await takeCapture(page);
      await shoot('-bench');
      await revealAll(page);
      await shoot('-learn');
      await view(page, 'Terms');
      await shoot('-terms');
      await page.context().close();
    }
}

/** One picture for each kind of user, and the first in both themes. */
async function pictureForReadme(browser: Browser, url: string): Promise<void> {
  for (const colorScheme of SCHEMES) {
    const { page } = await openPage(browser, url, { viewport: { width: 1060, height: 1000 }, colorScheme });
    await page.screenshot({ path: join(folder, `planning-${colorScheme}.png`) });
    if (colorScheme === 'light') {
      await takeCapture(page);
      const against = page.locator('section', {
        has: page.getByRole('heading', { name: 'Against the prediction' }),
      });
      await against.last().screenshot({ path: join(folder, 'bench.png') });
      await revealAll(page);
      await page.locator('#step-strobe').screenshot({ path: join(folder, 'teaching.png') });
    }
    await page.context().close();
  }
}

await mkdir(folder, { recursive: true });
const server = await servePage();
const browser = await launch();
await (forReadme ? pictureForReadme(browser, server.url) : lookAtAll(browser, server.url));
await browser.close();
await server.close();
console.log(`Pictures are in ${folder}`);
