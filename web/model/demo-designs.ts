import type { RawDesign } from './pointer.ts';

const files = import.meta.glob<RawDesign>('../../fixtures/designs/*.json', {
  eager: true,
  import: 'default',
});

export interface DemoDesign {
  /** File name without its ending. */
  readonly id: string;
  readonly name: string;
  readonly raw: RawDesign;
}

/** The demo designs, bundled so that the page needs no server for them. Invented, and marked so. */
export const DEMO_DESIGNS: readonly DemoDesign[] = Object.entries(files).map(([path, raw]) => {
  const id = path.slice(path.lastIndexOf('/') + 1, -'.json'.length);
  return { id, name: String(raw['name'] ?? id), raw };
});
