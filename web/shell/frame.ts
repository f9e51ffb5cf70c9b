import { effect } from '@preact/signals-core';
import { html, render } from 'lit-html';
import { sheet } from '../sharing/sheet.ts';
import { shelf } from '../shelf/shelf.ts';
import { clockBar } from '../stage/clock/clock-bar.ts';
import { margin } from '../stage/margin/margin.ts';
import { mat } from '../stage/mat/mat.ts';
import { partCard } from '../stage/path/part-card.ts';
import { pathRow } from '../stage/path/path-row.ts';
import { ring } from '../stage/ring/ring.ts';
import { trace } from '../stage/trace/trace.ts';
import { evidenceCard } from '../stage/verdict/evidence-card.ts';
import { verdictRow } from '../stage/verdict/verdict-row.ts';
import type { Page, Region } from '../state/page.ts';
import { mount } from '../ui/mount.ts';
import { announce } from './announce.ts';
import { listenToKeys } from './keys.ts';
import { playBeside } from './play-beside.ts';
import { coverStage, lessonBar } from './lesson-bar.ts';
import { nameRow } from './name-row.ts';
import { narrowTabs } from './narrow-tabs.ts';
import { notices } from './notices.ts';
import { showPlaces } from './places.ts';
import './shell.css';
import './shell-middle.css';
import './shell-narrow.css';
import './name-row-narrow.css';
import '../stage/verdict/verdict-narrow.css';
import './print.css';
import './projector.css';

/** Where each region stands: the name is its `data-region`. */
const REGIONS: Readonly<Record<string, Region>> = {
  name: nameRow,
  notices,
  lesson: lessonBar,
  verdict: verdictRow,
  path: pathRow,
  trace,
  part: partCard,
  evidence: evidenceCard,
  margin,
  ring,
  mat,
  clock: clockBar,
  shelf,
  sheet,
  tabs: narrowTabs,
};

const frame = html`
  <a class="skip" href="#main">To the stage</a>
  <header class="name-row" data-region="name"></header>
  <div data-region="notices" role="alert"></div>
  <main id="main" tabindex="-1" data-lesson="" data-covered="" data-locked="">
    <div data-region="lesson"></div>
    <div class="plan">
      <nav class="lesson-line" aria-label="Lesson"></nav>
      <section class="verdict-row" data-region="verdict" aria-label="Verdict"></section>
      <section class="path-row" data-region="path" aria-label="Signal path"></section>
      <div class="stage" tabindex="-1">
        <section class="lesson-rail learn" aria-label="Question"></section>
        <section class="lesson-plot" aria-label="Drawing"></section>
        <section class="trace" data-region="trace" aria-label="Trace"></section>
        <section
          class="card part-card"
          data-region="part"
          aria-label="Part of the signal path"
          hidden
        ></section>
        <section class="card evidence-card" data-region="evidence" aria-label="Evidence" hidden></section>
        <section class="margin" data-region="margin" aria-label="Margin at the strobe"></section>
        <section class="ring" data-region="ring" aria-label="The core now"></section>
        <section class="mat" data-region="mat" aria-label="Mat and wire"></section>
        <section class="clock" data-region="clock" aria-label="Instant"></section>
      </div>
      <section class="shelf" data-region="shelf" aria-label="Shelf"></section>
      <div class="sheet" data-region="sheet"></div>
      <nav class="narrow-tabs" data-region="tabs" aria-label="Views"></nav>
    </div>
    <div class="other-place"></div>
  </main>
  <p class="visually-hidden" role="status" id="announcement"></p>
`;

/** Builds the page once; from then on each region keeps itself drawn. */
export function buildFrame(page: Page, root: HTMLElement): void {
  root.replaceChildren();
  render(frame, root);
  const main = root.querySelector('main')!;
  root.querySelector('.skip')!.addEventListener('click', (event) => {
    event.preventDefault();
    main.focus();
  });
  for (const host of root.querySelectorAll<HTMLElement>('[data-region]'))
    mount(host, REGIONS[host.dataset['region']!]!(page), host.dataset['region'] === 'sheet');
  announce(page, root.querySelector('#announcement')!);
  listenToKeys(page);
  coverStage(page, main);
  playBeside(page, root);
  showPlaces(page, root.querySelector('.other-place')!);

  const { atoms, now } = page;
  effect(() => {
    const { paper, projector, beside } = atoms.view.value;
    const { dataset } = document.documentElement;
    if (paper === 'system') delete dataset['theme'];
    else dataset['theme'] = paper;
    const was = dataset['projector'] === 'true';
    dataset['projector'] = String(projector);
    dataset['beside'] = beside;
    // What goes by the size of the text is told of it as of a window that has changed.
    if (was !== projector) window.dispatchEvent(new Event('resize'));
  });
  // Each by itself: an attribute of the whole page that is written costs its style, changed or not.
  const follow = (name: string, value: () => string): void => {
    effect(() => {
      const text = value();
      if (main.dataset[name] !== text) main.dataset[name] = text;
    });
  };
  follow('place', () => atoms.place.value.name);
  follow('at', () => atoms.place.value.part);
  follow('look', () => atoms.narrowView.value);
  follow('work', () => atoms.work.value.kind);
  follow('runOld', () => String(now.runIsOld.value));
  follow('old', () => String(now.judgedIsOld.value));
  effect(() => {
    root.querySelector<HTMLElement>('.part-card')!.hidden = atoms.open.value === undefined;
    root.querySelector<HTMLElement>('.evidence-card')!.hidden = atoms.evidence.value === undefined;
  });
}
