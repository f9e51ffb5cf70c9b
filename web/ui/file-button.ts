import { html, type TemplateResult } from 'lit-html';

export interface FileButtonOptions {
  readonly id: string;
  /** What the reader sees, such as "Open a list". */
  readonly text: string;
  /** Endings and kinds of files, as a file field takes them. */
  readonly accept: string;
  readonly onFile: (file: File) => void;
}

/** A button that asks for a file; the same file can be chosen again. */
export const fileButton = ({ id, text, accept, onFile }: FileButtonOptions): TemplateResult =>
  html`<label class="file-button" for=${id}
    ><input
      type="file"
      id=${id}
      accept=${accept}
      class="visually-hidden"
      @change=${(event: Event) => {
        const input = event.currentTarget as HTMLInputElement;
        const file = input.files?.[0];
        input.value = '';
        if (file) onFile(file);
      }}
    />${text}</label
  >`;
