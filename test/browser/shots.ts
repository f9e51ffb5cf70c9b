import { mkdir } from 'node:fs/promises';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import type { Browser } from 'playwright-core';
import { launch, openPage } from './chromium.ts';
import { servePage } from './page-server.ts';

/** Pictures of the page: to look at (`npm run shots`, into .shots/) or for the README (`npm run pictures`). */
const top = fileURLToPath(new URL('../..', import.meta.url));
const forReadme = process.argv.includes('pictures');
const folder = forReadme ? join(top, 'fixtures', 'pictures') : join(top, '.shots');

async function shoot(
  browser: Browser,
  url: string,
  name: string,
  width: number,
  scheme: 'light' | 'dark',
): Promise<void> {
  const height = forReadme ? 1190 : 900;
  const { page } = await openPage(browser, url, { viewport: { width, height }, colorScheme: scheme });
  await page.screenshot({ path: join(folder, `${name}.png`), fullPage: !forReadme });
  if (!forReadme) {
    await page.getByRole('button', { name: 'Learn', exact: true }).click();
    await page.locator('.step').last().waitFor();
    for (const step of await page.locator('.step').all()) {
      await step.getByRole('radio').first().check();
      await step.getByRole('button', { name: 'Reveal' }).click();
    }
    await page.screenshot({ path: join(folder, `${name}-learn.png`), fullPage: true });
  }
  await page.context().close();
}

await mkdir(folder, { recursive: true });
const server = await servePage();
const browser = await launch();
for (const scheme of ['light', 'dark'] as const)
  for (const width of forReadme ? [1280] : [1280, 768, 320])
    await shoot(browser, server.url, forReadme ? `planning-${scheme}` : `${scheme}-${width}`, width, scheme);
await browser.close();
await server.close();
console.log(`Pictures are in ${folder}`);
