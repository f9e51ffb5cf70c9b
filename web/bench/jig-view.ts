import { html, nothing, type TemplateResult } from 'lit-html';
import type { OwnCore } from '../../engine/core/handbook/core-list.ts';
import type { CoreReport } from '../../engine/core/handbook/core-report.ts';
import { statusLine, type Said, type WorkState } from '../ui/status.ts';
import { scrollTable } from '../ui/table.ts';
import { jigResult } from './jig-result.ts';
import { formView } from './section.ts';
import { fileButton } from '../ui/file-button.ts';

/** A core as typed, with what its model answers. */
export interface FoundCore {
  readonly core: OwnCore;
  readonly report: CoreReport;
}

export interface JigViewOptions {
  readonly fields: TemplateResult;
  readonly captures: TemplateResult;
  readonly work: WorkState;
  readonly found: FoundCore | undefined;
  /** Holds the chart of what was found. */
  readonly plot: HTMLElement;
  /** The reader's own list. */
  readonly cores: readonly OwnCore[];
  /** What came of the last thing that was done with a core. */
  readonly told: Said | undefined;
  readonly onFind: () => void;
  readonly onInvented: () => void;
  readonly onUse: (core: OwnCore) => void;
  readonly onKeep: (core: OwnCore) => void;
  readonly onEdit: (core: OwnCore) => void;
  readonly onRemove: (core: OwnCore) => void;
  readonly onSave: () => void;
  readonly onOpen: (file: File) => void;
}

export const jigView = (options: JigViewOptions): TemplateResult => {
  const { work, found, told, onSave } = options;
  return html`<p class="note">
      Measured on one core with two drive wires and a sense wire: what it answers gives its parameters.
    </p>
    ${askForm(options)}
    <div class="status-row">${statusLine(work.said)}</div>
    <div class=${work.running ? 'bench-output stale' : 'bench-output'} ?hidden=${!found}>
      ${found ? foundView(found, options) : nothing}
    </div>
    <h3>My cores</h3>
    <div>${myCores(options)}</div>
    <div class="button-row">
      <button type="button" @click=${onSave}>Save the list</button>
      ${openButton(options)}
    </div>
    ${statusLine(told)}`;
};

const askForm = ({ fields, captures, onFind, onInvented }: JigViewOptions): TemplateResult =>
  formView({
    name: 'One core alone',
    className: 'bench-body',
    onSubmit: onFind,
    content: html`${fields} ${captures}
      <div class="button-row">
        <button type="submit">Find its parameters</button>
        <button type="button" @click=${onInvented}>Fill in an invented core</button>
      </div>`,
  });

const foundView = ({ core, report }: FoundCore, { plot, onUse, onKeep }: JigViewOptions): TemplateResult =>
  html`${plot} ${jigResult(report)}
    <div class="button-row">
      <button type="button" @click=${() => onUse(core)}>Use it in the design</button>
      <button type="button" @click=${() => onKeep(core)}>Keep it in my list</button>
    </div>`;

function myCores({ cores, onUse, onEdit, onRemove }: JigViewOptions): TemplateResult {
  if (cores.length === 0)
    return html`<p class="note">None kept yet. They stay in this browser only; save the list to move it.</p>`;
  const button = (text: string, core: OwnCore, act: (core: OwnCore) => void): TemplateResult =>
    html`<button type="button" aria-label="${text}: ${core.name}" @click=${() => act(core)}>${text}</button>`;
  return scrollTable({
    name: 'My cores',
    heads: ['Core', 'uV1 at t_p', ''],
    rows: cores.map((core) => [
      core.name,
      `${String(core.handbook['peakOne'] ?? '')} at ${String(core.handbook['peakTime'] ?? '')}`,
      html`<span class="button-row"
        >${button('Use', core, onUse)} ${button('Edit', core, onEdit)}
        ${button('Remove', core, onRemove)}</span
      >`,
    ]),
  });
}

const openButton = ({ onOpen }: JigViewOptions): TemplateResult =>
  fileButton({
    id: 'jig-list',
    text: 'Open a list',
    accept: '.json,application/json',
    onFile: onOpen,
  });
