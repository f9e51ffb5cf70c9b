import { html, type TemplateResult } from 'lit-html';
import { statusLine, type Said } from '../ui/status.ts';
import { SAMPLE_CAPTURES, type SampleCapture } from './sample-captures.ts';
import { fileButton } from '../ui/file-button.ts';

/** A text that is being read. */
export interface Opened {
  readonly name: string;
  readonly content: string | Uint8Array;
  readonly sample?: SampleCapture;
}

export interface OpenViewOptions {
  /** A file is held over the place to drop it. */
  readonly over: boolean;
  readonly said: Said | undefined;
  /** How the text was read. */
  readonly preview: HTMLElement;
  readonly onRead: (opened: Opened) => void;
  readonly onFile: (file: File) => void;
  readonly onOver: (over: boolean) => void;
}

export const openView = (options: OpenViewOptions): TemplateResult =>
  html`${dropPlace(options)}
    <div class="status-row">${statusLine(options.said)}</div>
    ${options.preview}`;

const dropPlace = (options: OpenViewOptions): TemplateResult =>
  html`<div
    class=${options.over ? 'bench-drop over' : 'bench-drop'}
    @dragover=${(event: DragEvent) => {
      event.preventDefault();
      options.onOver(true);
    }}
    @dragleave=${() => options.onOver(false)}
    @drop=${(event: DragEvent) => takeDropped(event, options)}
  >
    <div class="button-row">
      ${openButton(options)}<span class="note">a text file from any instrument, or drop it here</span>
    </div>
    <div class="button-row">
      <span class="label"
        >Or try an invented one, of the tide recorder’s mat, which it puts in the planning view:</span
      >
      ${SAMPLE_CAPTURES.map((sample) => {
        const read = (): void => options.onRead({ name: sample.file, content: sample.text, sample });
        return html`<button type="button" @click=${read}>${sample.title}</button>`;
      })}
    </div>
    ${pasteText(options)}
  </div>`;

function takeDropped(event: DragEvent, { onOver, onFile, onRead }: OpenViewOptions): void {
  event.preventDefault();
  onOver(false);
  const file = event.dataTransfer?.files[0];
  if (file) return onFile(file);
  const text = event.dataTransfer?.getData('text/plain');
  if (text) onRead({ name: 'dropped text', content: text });
}

const openButton = ({ onFile }: OpenViewOptions): TemplateResult =>
  fileButton({
    id: 'bench-file',
    text: 'Open a capture',
    accept: '.csv,.txt,.tsv,.dat,text/*',
    onFile,
  });

function pasteText({ onRead }: OpenViewOptions): TemplateResult {
  const read = (event: Event): void => {
    const text = (event.currentTarget as HTMLElement).closest('details')!.querySelector('textarea')!;
    onRead({ name: 'pasted text', content: text.value });
  };
  return html`<details>
    <summary>Paste its text</summary>
    <label for="bench-paste" class="label">Text of the capture</label>
    <textarea id="bench-paste" rows="5" spellcheck="false"></textarea>
    <div class="button-row"><button type="button" @click=${read}>Read the text</button></div>
  </details>`;
}
