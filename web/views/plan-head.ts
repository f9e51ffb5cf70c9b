import { readJsonText } from '../../engine/index.ts';
import { checkNow } from '../model/check-now.ts';
import { DEMO_DESIGNS } from '../model/demo-designs.ts';
import { h, put } from '../ui/dom.ts';
import { rawAt, type RawDesign } from '../model/pointer.ts';
import { saveFile } from '../sharing/save.ts';
import { currentRaw, edit, type AppState } from '../state.ts';
import { redo, undo } from '../state/undo.ts';
import { createReportButton } from '../sharing/report-button.ts';

/** Name and note of the design; demo designs, undo, open, save, link, print. */
export function createPlanHead(
  state: AppState,
  onLink: () => void,
): { readonly node: HTMLElement; update(): void } {
  const fileName = () =>
    String(rawAt(currentRaw(state), '/name') ?? 'design')
      .replace(/[^\p{L}\p{N}]+/gu, '-')
      .toLowerCase();
  const title = h('h1', {});
  const note = h('p', { class: 'note' });
  const demo = h(
    'select',
    { id: 'demo', change: () => chooseDemo() },
    h('option', { value: '' }, 'choose a demo design'),
    ...DEMO_DESIGNS.map(({ id, name }) => h('option', { value: id }, name)),
  );
  const step = (turn: typeof undo) => state.history.set(turn(state.history.get()));
  const back = h(
    'button',
    { type: 'button', 'aria-keyshortcuts': 'Control+Z', click: () => step(undo) },
    'Undo',
  );
  const forth = h(
    'button',
    { type: 'button', 'aria-keyshortcuts': 'Control+Shift+Z', click: () => step(redo) },
    'Redo',
  );
  document.addEventListener('keydown', (event) => {
    const turn = turnOf(event);
    // In a text box these keys belong to the text.
    if (!turn || state.view.get() !== 'plan' || isTextBox(event.target)) return;
    event.preventDefault();
    step(turn);
  });
  const file = h('input', {
    type: 'file',
    id: 'open-file',
    accept: '.json,application/json',
    class: 'visually-hidden',
    change: () => void openFile(),
  });
  const save = h(
    'button',
    {
      type: 'button',
      click: () =>
        saveFile(`${fileName()}.json`, 'application/json', `${JSON.stringify(currentRaw(state), null, 2)}\n`),
    },
    'Save design',
  );
  const link = h('button', { type: 'button', click: onLink }, 'Copy link');
  const report = createReportButton({
    design: () => checkNow(currentRaw(state)).design,
    fileName,
    onFailed: (message) => state.notice.set(message),
  });
  const print = h('button', { type: 'button', click: () => window.print() }, 'Print');
  const node = h(
    'div',
    { class: 'title-row' },
    h('div', {}, title, note),
    h(
      'div',
      { class: 'head-tools' },
      h('div', { class: 'field' }, h('label', { for: 'demo' }, 'Demo designs, invented'), demo),
      h(
        'div',
        { class: 'button-row' },
        back,
        forth,
        h('label', { class: 'file-button', for: 'open-file' }, file, 'Open design'),
        save,
        report,
        link,
        print,
      ),
    ),
  );

  function chooseDemo(): void {
    const found = DEMO_DESIGNS.find(({ id }) => id === demo.value);
    if (!found) return;
    state.span.set(undefined);
    edit(state, found.raw);
  }

  async function openFile(): Promise<void> {
    const chosen = file.files?.[0];
    file.value = '';
    if (!chosen) return;
    const reading = readJsonText(await chosen.text(), chosen.name);
    const raw = reading.ok ? reading.value : undefined;
    if (typeof raw === 'object' && raw !== null && !Array.isArray(raw)) {
      state.span.set(undefined);
      edit(state, raw as RawDesign);
      return;
    }
    const why = reading.ok
      ? `${chosen.name} is not a design file: a design is a JSON object in braces.`
      : reading.message;
    state.notice.set(`${why} The design on the page was left as it is.`);
  }

  return {
    node,
    update() {
      const raw = currentRaw(state);
      const history = state.history.get();
      put(title, String(rawAt(raw, '/name') ?? 'Untitled design'));
      put(note, String(rawAt(raw, '/note') ?? ''));
      back.disabled = history.past.length === 0;
      forth.disabled = history.future.length === 0;
      demo.value = DEMO_DESIGNS.find((item) => item.raw === raw)?.id ?? '';
    },
  };
}

function turnOf({ ctrlKey, metaKey, shiftKey, key }: KeyboardEvent): typeof undo | undefined {
  if (!ctrlKey && !metaKey) return undefined;
  const letter = key.toLowerCase();
  if (letter === 'z') return shiftKey ? redo : undo;
  return letter === 'y' ? redo : undefined;
}

const isTextBox = (target: EventTarget | null): boolean =>
  target instanceof HTMLTextAreaElement || (target instanceof HTMLInputElement && target.type === 'text');
