import type { Design } from '../../engine/design/design.ts';
import { h, put } from '../ui/dom.ts';
import { saveFile } from './save.ts';
import { createSideClient } from '../compute/side-client.ts';

export interface DocumentButtonOptions {
  /** Which document: what the design does, or what it is built from. */
  readonly kind: 'report' | 'pack';

  /** The design as it is now; undefined while it is refused. */
  readonly design: () => Design | undefined;
  /** Without its ending. */
  readonly fileName: () => string;
  readonly onFailed: (message: string) => void;
}

const NAMES = { report: 'report', pack: 'build pack' } as const;

/** Saves a document made in a worker; while it is made, the same button cancels it. */
export function createDocumentButton(options: DocumentButtonOptions): HTMLButtonElement {
  const { kind } = options;
  const client = createSideClient();
  let making = false;
  const button = h('button', { type: 'button', click: () => (making ? stop() : start()) });

  function show(on: boolean): void {
    making = on;
    put(button, `${on ? 'Cancel' : 'Save'} ${NAMES[kind]}`);
    button.setAttribute('aria-busy', String(on));
  }

  function stop(): void {
    client.cancel();
    show(false);
  }

  function start(): void {
    const design = options.design();
    if (!design)
      return options.onFailed(`No ${NAMES[kind]}: an input of the design is refused; mend it first.`);
    const name = options.fileName();
    show(true);
    client.ask(kind, design, {
      onAnswer: (html) => {
        show(false);
        saveFile(`${name}-${kind}.html`, 'text/html', html);
      },
      onFailed: ({ message }) => {
        show(false);
        options.onFailed(message);
      },
    });
  }

  show(false);
  return button;
}
