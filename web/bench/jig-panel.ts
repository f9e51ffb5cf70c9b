import { signal } from '@preact/signals-core';
import { html, nothing } from 'lit-html';
import { checkHandbook } from '../../engine/core/handbook/check-handbook.ts';
import type { OwnCore } from '../../engine/core/handbook/core-list.ts';
import { createWork } from '../compute/work.ts';
import type { RawDesign } from '../model/pointer.ts';
import { mount } from '../ui/mount.ts';
import { createBenchClient } from './bench-client.ts';
import type { BenchState } from './bench-state.ts';
import { createJigCaptures } from './jig-captures.ts';
import { createJigFields, type JigFields } from './jig-fields.ts';
import { jigChart } from './jig-result.ts';
import { jigView, type FoundCore } from './jig-view.ts';
import { createMyCores } from './my-cores.ts';
import { createSection } from './section.ts';

/** The core of a design as measured on a jig. */
export const designCore = ({ name, handbook }: OwnCore): RawDesign => ({
  name,
  source: 'measured on one core alone',
  handbook,
});

/**
 * One core on two wires: from what was read of it to the parameters of a design, and the reader's own list. `onUse` puts
 * a core into the design of the planning view.
 */
export function createJigPanel(bench: BenchState, onUse: (core: RawDesign) => void): HTMLElement {
  const fields = createJigFields();
  const captures = createJigCaptures(bench, fields);
  const mine = createMyCores();
  const { work, found, find } = createFinding(fields);
  const plot = document.createElement('div');
  plot.className = 'plot';

  const use = (core: OwnCore): void => {
    onUse(designCore(core));
    mine.say({
      sign: 'ok',
      text: `The design in the planning view now has ${core.name}; Undo there brings back the one before.`,
    });
  };
  const edit = ({ name, handbook }: OwnCore): void => {
    fields.fill(name, handbook);
    document.getElementById('jig-name')?.focus();
  };
  mount(plot, ({ width, em }) =>
    found.value
      ? html`${jigChart(found.value.report, Math.min(760 * em, Math.max(220, width)), em)}`
      : nothing,
  );
  return createSection('bench-jig', 'One core alone', () =>
    jigView({
      fields: fields.view(),
      captures: captures.view(),
      work: work.state.value,
      found: found.value,
      plot,
      cores: mine.cores.value,
      told: mine.said.value,
      onFind: find,
      onInvented: fields.invent,
      onUse: use,
      onKeep: mine.add,
      onEdit: edit,
      onRemove: mine.remove,
      onSave: mine.saveAsFile,
      onOpen: (file) => void mine.openFile(file),
    }),
  );
}

/** From what is in the fields to the core that answers so. */
function createFinding(fields: JigFields) {
  const work = createWork(createBenchClient());
  const found = signal<FoundCore | undefined>(undefined);
  const refuse = (message: string, field: string): string => {
    found.value = undefined;
    return fields.refuse(field, message) ? 'No parameters: see the field.' : message;
  };

  function find(): void {
    fields.clear();
    const core = { name: fields.name(), handbook: fields.handbook() };
    try {
      checkHandbook(core.handbook);
    } catch (error) {
      const { message, field = '' } = error as { message: string; field?: string };
      return work.say({ sign: 'error', text: refuse(message, field) });
    }
    work.ask(
      'core',
      { handbook: core.handbook },
      {
        busy: 'Looking for the core that answers so.',
        onAnswer: (report) => {
          found.value = { core, report };
          return { sign: 'ok', text: `Parameters of ${core.name} are found.` };
        },
        onFailed: ({ message, field }) => refuse(message, field),
      },
    );
  }
  return { work, found, find };
}
