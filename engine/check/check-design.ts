import { assembleDesign } from './assemble-design.ts';
import { HandbookError } from '../core/handbook/values.ts';
import { DesignError, jsonPointer, refused } from '../design/design-error.ts';
import { designRules } from './rules.ts';
import { designSchema, type ReadDesignFile } from '../design/schema/design-schema.ts';
import type { Design } from '../design/design.ts';
import { knownNames } from '../design/field-names.ts';
import { readFile } from '../design/read-file.ts';
import { readJsonText } from '../base/json-text.ts';
import { plainCopy } from '../design/plain-copy.ts';

/**
 * Unknown in, a complete frozen Design out: SI, every default filled, every rule between fields kept. The input
 * is not changed. Throws DesignError, and nothing else, with all problems found and the first as its message.
 */
export function checkDesign(raw: unknown): Design {
  const plain = plainCopy(raw);
  const file = readFile(designSchema, plain, (path) => knownNames(path), 'design');
  const design = assemble(file);
  const broken = designRules(design, file);
  if (broken.length > 0) throw refused(broken);
  return deepFreeze(design);
}

function assemble(file: ReadDesignFile): Design {
  try {
    return assembleDesign(file);
  } catch (error) {
    if (!(error instanceof HandbookError)) throw error;
    const message = `core.handbook.${error.message}`;
    throw new DesignError([
      { code: 'rule', field: jsonPointer(['core', 'handbook', error.field.replace(/^\//u, '')]), message },
    ]);
  }
}

/** A design from the text of a design file. A slip of JSON is told with its line and column. Throws DesignError. */
export function parseDesignText(text: string): Design {
  const reading = readJsonText(text, 'The design');
  if (reading.ok) return checkDesign(reading.value);
  throw refused([{ code: 'syntax', field: '', message: reading.message }]);
}

function deepFreeze<T>(value: T): T {
  if (value !== null && typeof value === 'object' && !Object.isFrozen(value)) {
    Object.freeze(value);
    for (const item of Object.values(value)) deepFreeze(item);
  }
  return value;
}
