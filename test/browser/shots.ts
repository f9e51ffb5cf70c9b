import { mkdir } from 'node:fs/promises';
import { join, resolve } from 'node:path';
import { fileURLToPath } from 'node:url';
import type { Browser, Page } from 'playwright-core';
import { atRest, goTo, launch, nextFrame, openDrawer, openPage, openPart } from './chromium.ts';
import { servePage } from './page-server.ts';

/**
 * Pictures of the page to look at: `npm run shots [-- FOLDER]` (else .shots/), and those of the README:
 * `npm run pictures`. Every region in light and dark at all widths, the whole page, and what opens.
 */
const top = fileURLToPath(new URL('../..', import.meta.url));
const forReadme = process.argv.includes('pictures');
const asked = process.argv.slice(1).find((word) => word !== 'pictures' && !word.startsWith('-'));
const folder = forReadme ? join(top, 'fixtures', 'pictures') : resolve(asked ?? join(top, '.shots'));
const SCHEMES = ['light', 'dark'] as const;
const SIZES = [
  { width: 1440, height: 900 },
  { width: 1920, height: 1080 },
  { width: 820, height: 1180 },
  { width: 390, height: 844 },
] as const;
const REGIONS = ['name', 'verdict', 'path', 'trace', 'margin', 'ring', 'mat', 'clock', 'shelf'];
const NARROW = ['mat', 'core', 'margin', 'studies'];
const DRAWERS = ['studies', 'pinned', 'inputs', 'cases', 'warnings'] as const;

async function shootRegions(page: Page, to: string): Promise<void> {
  for (const region of REGIONS) {
    const host = page.locator(`[data-region=${region}]`);
    if (await host.isVisible()) await host.screenshot({ path: join(to, `region-${region}.png`) });
  }
}

async function shootAll(browser: Browser, url: string): Promise<void> {
  for (const colorScheme of SCHEMES)
    for (const viewport of SIZES) {
      const to = join(folder, `${colorScheme}-${viewport.width}`);
      await mkdir(to, { recursive: true });
      const { page } = await openPage(browser, url, { viewport, colorScheme });
      await atRest(page);
      const shoot = async (name: string, fullPage = false): Promise<void> => {
        await nextFrame(page);
        await page.screenshot({ path: join(to, `${name}.png`), fullPage });
      };
      await shoot('plan');
      await shoot('plan-whole', true);
      await shootRegions(page, to);
      await openPart(page, 'drivers');
      await shoot('part');
      await page.getByRole('button', { name: 'Close' }).first().click();
      if (viewport.width === 390)
        for (const [i, name] of NARROW.entries()) {
          await page
            .locator('.narrow-tabs button')
            .nth(i + 1)
            .click();
          await shoot(`look-${name}`);
        }
      else
        for (const drawer of DRAWERS) {
          await openDrawer(page, drawer);
          await shoot(`drawer-${drawer}`);
        }
      for (const place of ['Bench', 'Learn', 'Words'] as const) {
        await goTo(page, place);
        await shoot(place.toLowerCase());
      }
      await page.context().close();
    }
}

/** One picture for each kind of user, and the first in both themes. */
async function pictureForReadme(browser: Browser, url: string): Promise<void> {
  await mkdir(folder, { recursive: true });
  for (const colorScheme of SCHEMES) {
    const { page } = await openPage(browser, url, { viewport: SIZES[0], colorScheme });
    await atRest(page);
    await page.screenshot({ path: join(folder, `planning-${colorScheme}.png`) });
    if (colorScheme === 'light') {
      await goTo(page, 'Bench');
      await page.getByRole('button', { name: 'a ONE', exact: true }).click();
      await page.getByRole('button', { name: 'Take this capture' }).click();
      const against = page.locator('section', {
        has: page.getByRole('heading', { name: 'Against the prediction' }),
      });
      await against.locator('svg.chart').first().waitFor();
      await against.last().screenshot({ path: join(folder, 'bench.png') });
      await goTo(page, 'Learn');
      const step = page.locator('#step-late');
      await step.getByRole('radio').first().check();
      await step.getByRole('button', { name: 'Reveal' }).click();
      await step.locator('.step-answer svg.chart path.stroke').first().waitFor();
      await step.screenshot({ path: join(folder, 'teaching.png') });
    }
    await page.context().close();
  }
}

const server = await servePage();
const browser = await launch();
await (forReadme ? pictureForReadme(browser, server.url) : shootAll(browser, server.url));
await browser.close();
await server.close();
console.log(`Pictures are in ${folder}`);
