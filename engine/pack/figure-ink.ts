export const INK = '#1C1A17';
export const QUIET = '#8A857B';
/** Wires after each other on one sheet: sense or half A, half B, and so on. */
export const WIRES = [
  { colour: '#8A3A14', dash: '' },
  { colour: '#25428F', dash: '1.6 0.7' },
  { colour: '#2F5D3A', dash: '0.5 0.6' },
  { colour: '#6B3A7A', dash: '2.4 0.7 0.5 0.7' },
] as const;

export const mm = (value: number): string => String(Math.round(value * 1000) / 1000);
