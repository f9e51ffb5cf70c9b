import { html, nothing, type TemplateResult } from 'lit-html';
import { CAUTIONS } from '../../engine/warnings/cautions.ts';
import { applyDifferences, openCase } from '../model/open-case.ts';
import type { Drawer } from '../state/atoms.ts';
import type { Page } from '../state/page.ts';
import { fetchedView } from '../ui/fetched.ts';
import type { Box, View } from '../ui/mount.ts';
import { createAdvicePanel } from './advice-panel.ts';
import { createCases } from './cases.ts';
import { createChannelView } from './channel-view.ts';
import { createEditor } from './editor.ts';
import './more.css';
import { createOpeningView } from './opening-view.ts';
import { createPins } from './pins.ts';
import { createSpectrumView } from './spectrum-view.ts';
import { createWarnings } from './warnings.ts';

/** What each drawer holds; made when it is first opened. */
export function createDrawers(page: Page): (drawer: Drawer, box: Box) => View {
  const made = new Map<Drawer, (box: Box) => View>();
  const make: Readonly<Record<Drawer, (page: Page) => (box: Box) => View>> = {
    studies,
    propose,
    pinned: createPins,
    inputs,
    cases,
    warnings,
  };
  return (drawer, box) => {
    if (!made.has(drawer)) made.set(drawer, make[drawer](page));
    return made.get(drawer)!(box);
  };
}

function studies({ atoms, now, act }: Page) {
  const options = {
    raw: now.raw,
    done: atoms.studies,
    onOpen: (raw: Parameters<typeof act.open>[0]) => {
      act.open(raw);
      act.go({ name: 'plan' });
    },
  };
  const host = fetchedView('The studies', async () =>
    (await import('../studies/studies-view.ts')).createStudiesView(options),
  );
  return () => html`${host}`;
}

function propose({ now, act }: Page) {
  const options = {
    raw: () => now.raw.peek(),
    design: () => now.design.value,
    onOpen: (raw: Parameters<typeof act.open>[0]) => {
      act.open(raw);
      act.go({ name: 'plan' });
    },
  };
  const host = fetchedView('What proposes builds', async () =>
    (await import('../propose/propose-view.ts')).createProposeView(options),
  );
  return () => html`${host}`;
}

function inputs({ atoms, now, act }: Page) {
  const editor = createEditor({
    onSet: (pointer, value) => act.set([pointer], value),
    onFind: (text) => {
      atoms.find.value = text;
    },
  });
  return () => {
    editor.update(now.raw.value, now.faults.value, now.run.value?.warnings ?? [], atoms.find.value);
    return html`${editor.node}`;
  };
}

function cases({ now, act }: Page) {
  const opening = createOpeningView({
    onPlace: (time, volts) => {
      act.setStrobe(time, 'place');
      act.setThreshold(volts, 'place');
      act.endGesture();
    },
  });
  const list = createCases({
    onOpen: (run, item) => act.change((raw) => openCase(raw, run.design, item.overrides ?? {})),
  });
  const spectrum = createSpectrumView();
  return ({ em }: Box) => {
    const [run, strobe] = [now.judged.value, now.strobe.value];
    if (!run || !strobe) return html`<p class="note">Being computed.</p>`;
    opening.update(run, strobe, em);
    list.update(run, strobe);
    spectrum.update(run, em);
    return html`<div class=${now.judgedIsOld.value ? 'old' : ''}>
      ${opening.node}${list.node}${spectrum.node}
    </div>`;
  };
}

function warnings({ now, act }: Page) {
  const list = createWarnings();
  const advice = createAdvicePanel({
    design: now.design,
    key: now.whole,
    onTake: (from, to) => act.change((raw) => applyDifferences(raw, from, to)),
  });
  const channel = createChannelView();
  return () => {
    list.update(now.run.value?.warnings ?? []);
    channel.update(now.design.value, now.whole.value);
    return html`${list.node}${advice}${channel.node}${cautions}`;
  };
}

const cautions: TemplateResult | typeof nothing = html`
  <details class="editor cautions">
    <summary>Before you build</summary>
    <ul>
      ${CAUTIONS.map(({ title, text }) => html`<li><strong>${title}.</strong> ${text}</li>`)}
    </ul>
  </details>
`;
