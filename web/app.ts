import type { Design } from '../engine/index.ts';
import { checkNow } from './model/check-now.ts';
import { DEMO_DESIGNS } from './model/demo-designs.ts';
import { h, put } from './ui/dom.ts';
import { createEngineClient } from './compute/run-client.ts';
import { icon } from './ui/icons.ts';
import { readLink, writeLink, type LinkState } from './state/link.ts';
import { physicsKey } from './model/physics-key.ts';
import { rawAt } from './model/pointer.ts';
import { readSpan } from './model/read-span.ts';
import { createState, currentRaw, edit, VIEWS, type AppState, type View } from './state.ts';
import { watchTyping } from './ui/typing.ts';
import { createPageHeader } from './views/page-header.ts';
import { createPlanView } from './views/plan.ts';

/** The design that opens when no link says otherwise. */
const FIRST_DEMO = 'tide-recorder-16x16';

export async function startApp(root: Element): Promise<void> {
  watchTyping(document);
  const first = DEMO_DESIGNS.find(({ id }) => id === FIRST_DEMO) ?? DEMO_DESIGNS[0]!;
  const state = createState(first.raw);
  await restoreLink(state);
  const engine = keepComputed(state);
  const plan = createPlanView(state, {
    onCancel: () => engine.cancel(),
    onAgain: () => engine.again(),
    onLink: () => void copyLink(state),
  });
  const notice = h('div', { class: 'notice', role: 'alert', hidden: true });
  const main = h('main', { id: 'main', tabindex: -1 }, notice, plan);
  put(
    root,
    h(
      'a',
      {
        class: 'skip',
        href: '#main',
        click: (event: Event) => {
          event.preventDefault();
          main.focus();
        },
      },
      'To the design',
    ),
    createPageHeader(state),
    main,
  );

  const showNotice = (text: string | undefined) => {
    notice.hidden = text === undefined;
    put(
      notice,
      h('p', {}, icon('warning'), text ?? ''),
      h('button', { type: 'button', click: () => state.notice.set(undefined) }, 'Dismiss'),
    );
  };
  state.notice.watch(showNotice);
  showNotice(state.notice.get());
  const opened = new Map<View, HTMLElement>([['plan', plan]]);
  const showView = async (view: View) => {
    const loaded = opened.get(view) ?? (await loadView(view, state));
    // The reader may have gone on to another view, or asked twice, while this one was fetched.
    if (!opened.has(view)) opened.set(view, loaded);
    if (state.view.get() !== view) return;
    for (const [name, node] of opened) node.hidden = name !== view;
    const node = opened.get(view)!;
    if (!node.isConnected) main.append(node);
    document.title =
      view === 'plan' ? 'Strobewright' : `${view.charAt(0).toUpperCase()}${view.slice(1)}: Strobewright`;
  };
  state.view.watch((view) => void showView(view));
  await showView(state.view.get());
  window.addEventListener('hashchange', () => void restoreLink(state));
}

async function loadView(view: View, state: AppState): Promise<HTMLElement> {
  if (view === 'bench') return (await import('./bench/bench-view.ts')).createBenchView(state);
  if (view === 'studies')
    return (await import('./studies/studies-view.ts')).createStudiesView({
      raw: () => currentRaw(state),
      onOpen: (raw) => {
        edit(state, raw);
        state.span.set(undefined);
        state.view.set('plan');
      },
    });
  if (view === 'learn')
    return (await import('./lessons/learn.ts')).createLearnView({
      onOpen: (raw) => {
        edit(state, raw);
        state.span.set(undefined);
        state.view.set('plan');
      },
    });
  return (await import('./lessons/terms.ts')).createTermsView();
}

/** ms without a change of strobe or threshold after which the worst cases are looked for anew. */
const REST = 400;

/**
 * Recomputes whenever the design changes. A change of strobe or threshold is answered at once from the runs at
 * hand; when it has come to rest the worst cases for its new place are sought, so that what is shown depends on
 * the inputs alone and not on the way to them.
 */
function keepComputed(state: AppState): { cancel(): void; again(): void } {
  /** Of the design whose full judgement stands: what is less than that would only take it back. */
  let judgedKey = '';
  const client = createEngineClient({
    onStage: (stage) => {
      const work = state.work.get();
      if (work.kind === 'running') state.work.set({ ...work, stage });
    },
    onFirst: (first, raw) => {
      if (physicsKey(raw) !== judgedKey) state.first.set(first);
    },
    onRun: (run, raw) => {
      const key = physicsKey(raw);
      if (key === judgedKey && run.grade !== 'full' && run.reason === undefined) return;
      state.first.set(undefined);
      state.runKey.set(key);
      state.run.set(run);
      if (!run.ensemble && !run.reason) return;
      judgedKey = run.grade === 'full' ? key : '';
      state.judged.set(run);
    },
    onFinished: () => state.work.set({ kind: 'idle' }),
    onFailed: (message) => state.work.set({ kind: 'failed', message }),
  });
  let asked = '';
  let askedPlace = '';
  let timer: ReturnType<typeof setTimeout> | undefined;
  const consider = (): void => {
    const raw = currentRaw(state);
    const key = physicsKey(raw);
    const strobePlace = JSON.stringify([rawAt(raw, '/strobe/time'), rawAt(raw, '/detector/threshold')]);
    const { design } = checkNow(raw);
    if (design === undefined || (key === asked && strobePlace === askedPlace)) return;
    clearTimeout(timer);
    const run = (): void => client.run(raw, readFirst(state, design));
    if (key === asked) timer = setTimeout(run, REST);
    else {
      state.first.set(undefined);
      run();
    }
    [asked, askedPlace] = [key, strobePlace];
    state.work.set({ kind: 'running', since: performance.now(), stage: 'starting' });
  };
  state.history.watch(consider);
  consider();
  return {
    cancel() {
      clearTimeout(timer);
      client.cancel();
      state.work.set({ kind: 'cancelled' });
    },
    again() {
      asked = '';
      consider();
    },
  };
}

/** s of the cycle that must be read before what is on the screen can be drawn; undefined where that is nearly all of it. */
function readFirst(state: AppState, design: Design): number | undefined {
  const { a = 0, b = 0 } = state.cursors.get() ?? {};
  const shown = state.span.get()?.to ?? readSpan(design).to;
  const end = Math.max(shown, a, b, design.strobe.time ?? 0) + 4 * design.numerics.output;
  return end < 0.6 * design.cycle.period ? end : undefined;
}

async function restoreLink(state: AppState): Promise<void> {
  const fragment = location.hash.slice(1);
  if (fragment === '' || fragment === 'main') return;
  const reading = await readLink(fragment);
  if (!reading.ok) return state.notice.set(reading.message);
  const { raw, span, view, bit, cursors } = reading.state;
  edit(state, raw);
  if (span) state.span.set({ from: span[0], to: span[1] });
  if (cursors) state.cursors.set({ a: cursors[0], b: cursors[1] });
  if (bit !== undefined) state.shownBit.set(bit);
  const known = VIEWS.find((name) => name === view);
  if (known) state.view.set(known);
}

function linkStateOf(state: AppState): LinkState {
  const span = state.span.get();
  const cursors = state.cursors.get();
  return {
    raw: currentRaw(state),
    view: state.view.get(),
    bit: state.shownBit.get(),
    ...(span ? { span: [span.from, span.to] as const } : {}),
    ...(cursors ? { cursors: [cursors.a, cursors.b] as const } : {}),
  };
}

async function copyLink(state: AppState): Promise<void> {
  const fragment = await writeLink(linkStateOf(state));
  history.replaceState(undefined, '', `#${fragment}`);
  try {
    await navigator.clipboard.writeText(location.href);
    state.notice.set(
      'The link is copied; it holds the exact state of this page. It is in the address line too.',
    );
  } catch {
    state.notice.set(
      'The link to the exact state of this page is now in the address line: copy it from there.',
    );
  }
}
