// Ray files of IES TM-25 (2013): where each field stands, and what it may hold. Little-endian; 32-bit floats; text in UTF-32.
// The layout is second-hand, from published tables of it, and from memory: the standard's own text was not at hand. Second-hand: offsets and types of
// the header to 88, the eight flags at 256, nine texts of 1000 characters at 288, tables from 36288 on filled up to 32 bytes, labels of 512 bytes, the
// order of the columns up to the Stokes parameters. From memory: that the additional text's size counts bytes, and that its text comes after the labels;
// the order tristimulus X, Z, index of spectrum. Files written here have no tables, labels or additional text, so that none of this bears on them.

export const MAGIC = 'TM25'
export const VERSION_2013 = 2013
/** Offsets of the header's fields, bytes. */
export const AT = {
  version: 4,
  creation: 8,
  luminousLm: 12,
  radiantW: 16,
  rays: 20,
  date: 28,
  start: 56,
  spectral: 60,
  singleNm: 64,
  fromNm: 68,
  toNm: 72,
  tables: 76,
  additional: 80,
  textBytes: 84,
  flags: 256,
  texts: 288,
  tablesFrom: 36_288,
} as const
export const DATE_BYTES = 28
export const TEXT_CHARS = 1000
export const LABEL_BYTES = 512
/** The header's blocks are filled up to multiples of this. */
export const BLOCK_BYTES = 32

/** What the nine texts say, in their order. */
export const TEXTS = [
  'name',
  'maker',
  'modelAuthor',
  'fileAuthor',
  'equipment',
  'camera',
  'source',
  'more',
  'reference',
] as const
export type RayFileTexts = Record<(typeof TEXTS)[number], string>

/** Flags of the header in their order; the first two are always set. */
export const FLAGS = [
  'position',
  'direction',
  'radiantW',
  'wavelengthNm',
  'luminousLm',
  'stokes',
  'tristimulus',
  'spectrum',
] as const
export type RayFileFlags = Record<(typeof FLAGS)[number], boolean>

/** What the wavelengths of the file's rays are. */
export const SPECTRAL = ['none', 'single', 'eachRay', 'table', 'tableOfRay'] as const
type Spectral = (typeof SPECTRAL)[number]

/** Columns of a ray that go with each flag, in the file's order. Positions in mm, direction a unit vector, fluxes in W and lm. */
export function columnsOf(flags: RayFileFlags, additional: readonly string[]): string[] {
  return [
    ...['xMm', 'yMm', 'zMm', 'dx', 'dy', 'dz'],
    ...(flags.radiantW ? ['radiantW'] : []),
    ...(flags.wavelengthNm ? ['wavelengthNm'] : []),
    ...(flags.luminousLm ? ['luminousLm'] : []),
    ...(flags.stokes ? ['stokes1', 'stokes2', 'stokes3'] : []),
    ...(flags.tristimulus ? ['tristimulusX', 'tristimulusZ'] : []),
    ...(flags.spectrum ? ['spectrum'] : []),
    ...additional,
  ]
}

export interface RayFileHead {
  /** 0: a simulation, 1: a measurement. */
  creation: number
  /** Of all rays together; null: not known. */
  luminousLm: number | null
  radiantW: number | null
  rays: number
  /** ISO 8601. */
  date: string
  /** Where rays start, by the standard's code; 0: unknown. */
  start: number
  spectral: Spectral
  singleNm: number | null
  fromNm: number | null
  toNm: number | null
  flags: RayFileFlags
  texts: RayFileTexts
  /** Names of further columns. */
  additional: string[]
}

/** Zero padded; characters beyond the room are left out. */
export function putUtf32(view: DataView, at: number, chars: number, text: string): void {
  let n = 0
  for (const char of text) {
    if (n === chars) return
    view.setUint32(at + 4 * n++, char.codePointAt(0) ?? 0, true)
  }
}

/** Up to the first zero; what is no character becomes U+FFFD. */
export function takeUtf32(view: DataView, at: number, chars: number): string {
  let text = ''
  for (let n = 0; n < chars; n++) {
    const code = view.getUint32(at + 4 * n, true)
    if (code === 0) break
    text += code > 0x10ffff || (code >= 0xd800 && code < 0xe000) ? '\ufffd' : String.fromCodePoint(code)
  }
  return text
}
