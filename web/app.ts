import { buildFrame } from './shell/frame.ts';
import { DEMO_DESIGNS } from './model/demo-designs.ts';
import { keepForOffline } from './shell/keep-offline.ts';
import { followAddress } from './state/address.ts';
import { createAtoms } from './state/atoms.ts';
import { derive } from './state/derived.ts';
import { createGestures } from './state/gestures.ts';
import { keepLanguage } from './state/keep-language.ts';
import { keepWork } from './state/keep.ts';
import { keepComputed } from './state/run-keeper.ts';
import { followLayout } from './ui/layout.ts';
import { watchTyping } from './ui/typing.ts';

/** The design that opens when neither an address nor this browser says otherwise. */
const FIRST_DEMO = 'tide-recorder-16x16';

export async function startApp(root: HTMLElement): Promise<void> {
  watchTyping(document);
  followLayout();
  const first = DEMO_DESIGNS.find(({ id }) => id === FIRST_DEMO) ?? DEMO_DESIGNS[0]!;
  const atoms = createAtoms(first.raw);
  const now = derive(atoms);
  await followAddress(atoms);
  await keepLanguage(atoms);
  keepWork(atoms);
  atoms.online.value = navigator.onLine;
  for (const kind of ['online', 'offline'])
    window.addEventListener(kind, () => {
      atoms.online.value = navigator.onLine;
    });
  keepForOffline(atoms);
  buildFrame({ atoms, now, act: createGestures(atoms, now), runs: keepComputed(atoms, now) }, root);
}
