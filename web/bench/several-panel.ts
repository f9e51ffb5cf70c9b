import { signal } from '@preact/signals-core';
import { html, nothing, type TemplateResult } from 'lit-html';
import { formatQuantity } from '../../engine/base/format-quantity.ts';
import { unitOf } from '../../engine/design/schema/core.ts';
import type { SeveralFit } from '../../engine/fitting/jig/fit-several.ts';
import { createWork } from '../compute/work.ts';
import type { RawDesign } from '../model/pointer.ts';
import { saveFile } from '../sharing/save.ts';
import { statusLine } from '../ui/status.ts';
import { scrollTable } from '../ui/table.ts';
import { createBenchClient } from './bench-client.ts';
import { createSection } from './section.ts';

/** Bytes of all files together. */
const MOST_BYTES = 100_000_000;

/**
 * One core fitted to several captures with their currents: the list of captures, as the command line takes it, is chosen
 * together with the CSVs that it names. `onUse` puts the core into the design of the planning view.
 */
export function createSeveralPanel(onUse: (core: RawDesign) => void): HTMLElement {
  const work = createWork(createBenchClient());
  const found = signal<SeveralFit | undefined>(undefined);
  const fail = (text: string): void => work.say({ sign: 'error', text });

  async function open(files: readonly File[]): Promise<void> {
    const lists = files.filter(({ name }) => name.endsWith('.json'));
    if (lists.length !== 1)
      return fail(
        `One list of captures (.json) must be chosen together with its CSV files, but ${lists.length} were: choose them all at once.`,
      );
    if (files.reduce((sum, { size }) => sum + size, 0) > MOST_BYTES)
      return fail(`The files may have ${MOST_BYTES / 1e6} MB together, and have more: thin the captures.`);
    let file: unknown;
    try {
      file = JSON.parse(await lists[0]!.text());
    } catch {
      return fail(
        `${lists[0]!.name} must be a list of captures as JSON, and is not: mend it or choose another.`,
      );
    }
    const texts = new Map<string, Uint8Array>();
    for (const each of files)
      if (each !== lists[0]) texts.set(each.name, new Uint8Array(await each.arrayBuffer()));
    work.ask(
      'several',
      { file, texts },
      {
        busy: 'Fitting the core to its captures.',
        onAnswer: (fit) => {
          found.value = fit;
          return {
            sign: 'ok',
            text: `${fit.core.name} is found from ${fit.captures.length === 1 ? 'one capture' : `${fit.captures.length} captures`}.`,
          };
        },
        onFailed: ({ message }) => message,
      },
    );
  }

  const use = (fit: SeveralFit): void => {
    onUse(fit.file as RawDesign);
    work.say({
      sign: 'ok',
      text: `The design in the planning view now has ${fit.core.name}; Undo there brings back the one before.`,
    });
  };
  return createSection(
    'bench-several',
    'One core, several captures',
    () =>
      html`<p class="note">
          Reads and writes at several drives, and reads after half-select pulses, each captured with its
          current: fitted together they show what one reading cannot. Choose a list of captures, as the
          command line takes it, together with the CSV files that it names.
        </p>
        <div class="button-row">
          <label class="file-button" for="several-files"
            ><input
              type="file"
              id="several-files"
              multiple
              accept=".json,.csv,.txt"
              class="visually-hidden"
              @change=${(event: Event) => {
                const input = event.currentTarget as HTMLInputElement;
                const files = [...(input.files ?? [])];
                input.value = '';
                if (files.length > 0) void open(files);
              }}
            />Choose list and captures</label
          >
        </div>
        <div class="status-row">${statusLine(work.state.value.said)}</div>
        ${found.value ? resultView(found.value, use) : nothing}`,
  );
}

function resultView(fit: SeveralFit, use: (fit: SeveralFit) => void): TemplateResult {
  const { core, unknowns, shown, captures, notes } = fit;
  return html`${scrollTable({
      name: 'Core fitted to its captures',
      heads: ['Parameter', 'value', 'range (95 %)', 'from'],
      rows: unknowns.map((name) => {
        const { low, high, from } = core.range[name];
        const words = (value: number): string => formatQuantity(value, unitOf(name), 3);
        const origin = shown.includes(name) ? 'measured' : `${from}, not shown by the captures`;
        return [name, words(core.parameters[name]), `${words(low)} to ${words(high)}`, origin];
      }),
    })}
    ${scrollTable({
      name: 'How the captures lie on the model',
      heads: ['Capture', 'rms', 'of its peak'],
      rows: captures.map(({ name, rms, share }) => [
        name,
        formatQuantity(rms, 'V', 2),
        `${(100 * share).toFixed(1)} %`,
      ]),
    })}
    ${
      notes.length > 0
        ? html`<ul class="findings">
            ${notes.map((note) => html`<li>${note}</li>`)}
          </ul>`
        : nothing
    }
    <div class="button-row">
      <button type="button" @click=${() => use(fit)}>Use it in the design</button>
      <button
        type="button"
        @click=${() => saveFile('core.json', 'application/json', `${JSON.stringify(fit.file, null, 2)}\n`)}
      >
        Save it as a file
      </button>
    </div>`;
}
