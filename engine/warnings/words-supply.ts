import { formatQuantity } from '../base/format-quantity.ts';
import type { WordsFor } from './words-for.ts';

const amps = (value: number): string => formatQuantity(value, 'A');

export const supplyWords: WordsFor<'supply-current' | 'supply-peak' | 'reservoir' | 'wire-heat'> = {
  'supply-current': ({ used, limit, facts }) => ({
    message: `At one cycle each ${formatQuantity(facts.period, 's')} with all bits ZERO the supply gives ${amps(used)}, over its budget of ${amps(limit)}.`,
    remedy: Number.isFinite(facts.shortest)
      ? `Lengthen the period to ${formatQuantity(facts.shortest, 's')}, shorten the pulses, or take a larger supply.`
      : 'Take a larger supply: what is drawn at rest alone is over its budget.',
  }),
  'supply-peak': ({ used, limit, facts }) => ({
    message: `While a word of ZEROs is written the drivers draw ${amps(used)} together, over the ${amps(limit)} that the supply gives, and no reservoir is stated.`,
    remedy: `Put ${formatQuantity(facts.reservoir, 'F', 2)} beside the drivers (they then lose 1 % of their voltage in a cycle) and state it.`,
  }),
  reservoir: ({ used, limit, facts }) => ({
    message: `A cycle draws so much at a peak of ${amps(facts.peak)} that holding its voltage to 1 % takes ${formatQuantity(used, 'F')}, but the reservoir is ${formatQuantity(limit, 'F')}.`,
    remedy: 'Take a larger reservoir, close to the drivers.',
  }),
  'wire-heat': ({ used, limit, facts }) => ({
    message: `Used in every cycle, ${facts.line} takes ${formatQuantity(facts.perMetre, '1', 2)} W for each metre and warms by about ${formatQuantity(used, 'K', 2)} in still air, more than ${formatQuantity(limit, 'K')}.`,
    remedy: 'Take thicker wire, a lower duty, or move air over the mat.',
  }),
};
