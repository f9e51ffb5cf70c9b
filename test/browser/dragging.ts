import type { Page } from 'playwright-core';

/** What the page says in one frame, as text; undefined: not said, or marked as of the inputs before. */
export interface Said {
  readonly strobe: string;
  readonly threshold: string;
  /** As typed into the open card. */
  readonly current: string | undefined;
  readonly nominal: string | undefined;
  readonly corners: string | undefined;
  /** The figure of the bracket in the signal lane. */
  readonly bracket: string | undefined;
  /** The end of the stairs of the margin. */
  readonly stairs: string | undefined;
  /** Something stood there and was marked as old. */
  readonly marked: boolean;
}

/** Looks at the page after every frame until `stop`, and gives what it said, each different frame once. */
export async function watchFigures(page: Page): Promise<{ stop(): Promise<readonly Said[]> }> {
  const seen = await page.evaluateHandle(() => {
    const text = (what: string) => document.querySelector(what)?.textContent?.trim() || undefined;
    const grip = (name: string) =>
      document
        .querySelector(`.lane-signal [role=slider][aria-label=${name}]`)
        ?.getAttribute('aria-valuenow') ?? '';
    const cell = (set: string) => {
      const now = document.querySelector(`.cell[data-set=${set}]`);
      const known = now && !now.matches('.old, .standing-unknown');
      return known ? text(`.cell[data-set=${set}] .figure`) : undefined;
    };
    const look = (): Said => {
      const fresh = document.querySelector('.lane-signal .plot.fresh') !== null;
      const laneOld = document.querySelector('.lane-signal.old') !== null;
      const stairsOld = document.querySelector('.stairs-body.old') !== null;
      return {
        strobe: grip('Strobe'),
        threshold: grip('Threshold'),
        current: document.querySelector<HTMLInputElement>('#part-drive-x-readAmplitude')?.value,
        nominal: cell('nominal'),
        corners: cell('corners'),
        bracket: laneOld || fresh ? undefined : text('.margin-brackets text'),
        stairs: stairsOld ? undefined : text('.stairs-note'),
        marked: laneOld && stairsOld && document.querySelector('.cell[data-set=nominal].old') !== null,
      };
    };
    const said = new Map<string, Said>();
    let on = true;
    // After the frame is whole: what is looked at between two writers of one frame, no reader ever sees.
    const { port1, port2 } = new MessageChannel();
    port1.addEventListener('message', () => {
      const now = look();
      said.set(JSON.stringify(now), now);
      if (on) requestAnimationFrame(() => port2.postMessage(0));
    });
    port1.start();
    port2.postMessage(0);
    return {
      stop: () => {
        on = false;
        return [...said.values()];
      },
    };
  });
  return { stop: () => seen.evaluate((watch) => watch.stop()) };
}

/** Moves a pressed pointer to and fro over `along` px for some seconds and sixty moves at least. `rests`: stands still now and then. */
export async function dragToAndFro(
  page: Page,
  from: { readonly x: number; readonly y: number },
  along: { readonly x: number; readonly y: number },
  seconds: number,
  rests: boolean,
): Promise<void> {
  await page.mouse.move(from.x, from.y);
  await page.mouse.down();
  const end = Date.now() + seconds * 1000;
  for (let i = 0; i < 60 || Date.now() < end; i++) {
    const part = Math.sin(i / 9);
    await page.mouse.move(from.x + along.x * part, from.y + along.y * part);
    await page.waitForTimeout(rests && i % 28 === 13 ? 500 : 16);
  }
  await page.mouse.up();
}
