/**
 * Colour arithmetic for the tests of the palette, written from the published formulas.
 *
 * Contrast: WCAG 2.2, relative luminance and contrast ratio.
 * Simulation of deuteranopia and protanopia: Machado, Oliveira and Fernandes, "A physiologically-based model for
 * simulation of color vision deficiency", IEEE TVCG 15(6), 2009, matrices for severity 1.0.
 * Distance: CIECAM02 (CIE 159:2004) in the uniform space of Luo, Cui and Li, Color Research and Application 31,
 * 2006 (CAM02-UCS), viewing conditions of sRGB (IEC 61966-2-1): L_A = 64/pi/5, Y_b = 20, average surround, D65.
 */
type Triple = readonly [number, number, number];
type Matrix = readonly [Triple, Triple, Triple];

export type Vision = 'normal' | 'deuteranopia' | 'protanopia';

const SIMULATION: Readonly<Record<Exclude<Vision, 'normal'>, Matrix>> = {
  protanopia: [
    [0.152286, 1.052583, -0.204868],
    [0.114503, 0.786281, 0.099216],
    [-0.003882, -0.048116, 1.051998],
  ],
  deuteranopia: [
    [0.367322, 0.860646, -0.227968],
    [0.280085, 0.672501, 0.047413],
    [-0.01182, 0.04294, 0.968881],
  ],
};

const SRGB_TO_XYZ: Matrix = [
  [0.4124564, 0.3575761, 0.1804375],
  [0.2126729, 0.7151522, 0.072175],
  [0.0193339, 0.119192, 0.9503041],
];
const CAT02: Matrix = [
  [0.7328, 0.4296, -0.1624],
  [-0.7036, 1.6975, 0.0061],
  [0.003, 0.0136, 0.9834],
];
/** Hunt-Pointer-Estevez after the inverse of CAT02. */
const CAT02_TO_HPE: Matrix = [
  [0.7409792, 0.218025, 0.0410058],
  [0.2853532, 0.6242014, 0.0904454],
  [-0.009628, -0.005698, 1.015326],
];

const times = (m: Matrix, v: Triple): Triple =>
  m.map((row) => row[0] * v[0] + row[1] * v[1] + row[2] * v[2]) as unknown as Triple;

function linearRgb(hex: string): Triple {
  const channel = (at: number): number => {
    const value = parseInt(hex.slice(at, at + 2), 16) / 255;
    return value <= 0.04045 ? value / 12.92 : ((value + 0.055) / 1.055) ** 2.4;
  };
  return [channel(1), channel(3), channel(5)];
}

/** WCAG contrast ratio of two colours, 1 to 21. */
export function contrast(a: string, b: string): number {
  const luminance = (hex: string): number => {
    const [r, g, blue] = linearRgb(hex);
    return 0.2126 * r + 0.7152 * g + 0.0722 * blue;
  };
  const [low, high] = [luminance(a), luminance(b)].sort((x, y) => x - y) as [number, number];
  return (high + 0.05) / (low + 0.05);
}

/** Distance of two sRGB colours in CAM02-UCS as seen with the given vision. */
export function distance(a: string, b: string, vision: Vision): number {
  const [p, q] = [a, b].map((hex) => camUcs(seen(linearRgb(hex), vision))) as [Triple, Triple];
  return Math.hypot(p[0] - q[0], p[1] - q[1], p[2] - q[2]);
}

const clamp = (value: number): number => Math.min(1, Math.max(0, value));

function seen(rgb: Triple, vision: Vision): Triple {
  return vision === 'normal' ? rgb : (times(SIMULATION[vision], rgb).map(clamp) as unknown as Triple);
}

/** J', a', b' of linear sRGB. */
function camUcs(rgb: Triple): Triple {
  const white: Triple = [95.047, 100, 108.883];
  const xyz = times(SRGB_TO_XYZ, rgb).map((value) => 100 * value) as unknown as Triple;
  const adapting = 64 / Math.PI / 5;
  const [f, c, nc, yb] = [1, 0.69, 1, 20];
  const k = 1 / (5 * adapting + 1);
  const fl = 0.2 * k ** 4 * (5 * adapting) + 0.1 * (1 - k ** 4) ** 2 * (5 * adapting) ** (1 / 3);
  const n = yb / white[1];
  const z = 1.48 + Math.sqrt(n);
  const nbb = 0.725 * (1 / n) ** 0.2;
  const d = f * (1 - (1 / 3.6) * Math.exp((-adapting - 42) / 92));
  const rgbWhite = times(CAT02, white);
  const response = (value: Triple): Triple => {
    const adapted = times(CAT02, value).map(
      (v, i) => v * ((white[1] * d) / rgbWhite[i]! + 1 - d),
    ) as unknown as Triple;
    return times(CAT02_TO_HPE, adapted).map((v) => {
      const x = ((fl * Math.abs(v)) / 100) ** 0.42;
      return Math.sign(v) * ((400 * x) / (x + 27.13)) + 0.1;
    }) as unknown as Triple;
  };
  const achromatic = ([r, g, b]: Triple): number => (2 * r + g + b / 20 - 0.305) * nbb;
  const [r, g, b] = response(xyz);
  const aw = achromatic(response(white));
  const J = 100 * Math.max(0, achromatic([r, g, b]) / aw) ** (c * z);
  const ca = r - (12 * g) / 11 + b / 11;
  const cb = (r + g - 2 * b) / 9;
  const hue = Math.atan2(cb, ca);
  const et = (Math.cos(hue + 2) + 3.8) / 4;
  const t = ((50_000 / 13) * nc * nbb * et * Math.hypot(ca, cb)) / (r + g + (21 * b) / 20);
  const C = t ** 0.9 * Math.sqrt(J / 100) * (1.64 - 0.29 ** n) ** 0.73;
  const M = Math.log1p(0.0228 * C * fl ** 0.25) / 0.0228;
  return [(1.7 * J) / (1 + 0.007 * J), M * Math.cos(hue), M * Math.sin(hue)];
}

/** Hue in degrees, saturation and value (HSV). */
export function hsv(hex: string): Triple {
  const [r, g, b] = [1, 3, 5].map((at) => parseInt(hex.slice(at, at + 2), 16) / 255) as unknown as Triple;
  const most = Math.max(r, g, b);
  const range = most - Math.min(r, g, b);
  const sector =
    range === 0
      ? 0
      : most === r
        ? ((g - b) / range + 6) % 6
        : most === g
          ? (b - r) / range + 2
          : (r - g) / range + 4;
  return [sector * 60, most === 0 ? 0 : range / most, most];
}
