// Figures as they stand on a page: thousands separators, a true minus sign, a unit that does not break off.

const NO_BREAK = '\u00a0';
const MINUS = '\u2212';

/** What stands where a figure is missing: never a zero. */
const NOT_MEASURED = 'not measured';

/** A page writes hundreds of figures: making a format anew for each took a tenth of the time to the first picture. */
const formats = new Map<number, Intl.NumberFormat>();
function formatOf(decimals: number): Intl.NumberFormat {
  let format = formats.get(decimals);
  if (format === undefined) {
    format = new Intl.NumberFormat('en-GB', { minimumFractionDigits: decimals, maximumFractionDigits: decimals });
    formats.set(decimals, format);
  }
  return format;
}

/** `1,490`, `−36`, `4.1`; a value that rounds to zero has no sign. */
export function plainNumber(value: number, decimals = 0): string {
  const text = formatOf(decimals).format(Math.abs(value));
  return value < 0 && /[1-9]/.test(text) ? MINUS + text : text;
}

/** As {@link plainNumber}, with a plus sign before what is more than zero. */
export function signedNumber(value: number, decimals = 0): string {
  const text = plainNumber(value, decimals);
  return value > 0 && /[1-9]/.test(text) ? `+${text}` : text;
}

/** Decimals that suit a unit: tenths of seconds, hundredths of ratios and g, whole numbers of the rest. */
export function decimalsOf(unit: string): number {
  if (unit === 's') return 1;
  return unit === '' || unit === 'g' ? 2 : 0;
}

/** `1,000 ft`, `37°`, `4.1 s`; "not measured" for null. */
export function figure(value: number | null | undefined, unit: string, decimals = decimalsOf(unit)): string {
  if (value === null || value === undefined || !Number.isFinite(value)) return NOT_MEASURED;
  return withUnit(plainNumber(value, decimals), unit);
}

/** As {@link figure}, with a sign on either side of zero. */
export function signedFigure(value: number | null | undefined, unit: string, decimals = decimalsOf(unit)): string {
  if (value === null || value === undefined || !Number.isFinite(value)) return NOT_MEASURED;
  return withUnit(signedNumber(value, decimals), unit);
}

/** `37° right`, `12° left`, `level` within half a degree. */
export function bankFigure(bankDeg: number | null | undefined): string {
  if (bankDeg === null || bankDeg === undefined || !Number.isFinite(bankDeg)) return NOT_MEASURED;
  const size = Math.round(Math.abs(bankDeg));
  if (size === 0) return 'level';
  return `${plainNumber(size)}°${NO_BREAK}${bankDeg > 0 ? 'right' : 'left'}`;
}

/** A sentence whose figures stay on one line with their units. */
export function unbroken(sentence: string): string {
  return sentence.replace(/(\d) (?=(?:ft|kt|s|g|rpm|%)(?![a-z]))/g, `$1${NO_BREAK}`);
}

function withUnit(text: string, unit: string): string {
  if (unit === '') return text;
  return isDegrees(unit) ? `${text}°` : `${text}${NO_BREAK}${unit}`;
}

function isDegrees(unit: string): boolean {
  return unit === '°' || unit === 'deg' || unit === 'degrees';
}
