// Reads photometric files of IES LM-63 (1986, 1991, 1995, 2002, 2019), type C. The result is the intensities over the whole turn, or one
// sentence with the error. Order and codes of the fields: the standard's editions of 1995, 2002 and 2019 (partly second-hand).
import { type Numbers, readNumbers, truncate } from './lm63Numbers.ts'
import { angleFault, expandPlanes, type Symmetry } from './lm63Planes.ts'

type Edition = 1986 | 1991 | 1995 | 2002 | 2019

export interface Photometry {
  edition: Edition
  keywords: readonly { name: string; text: string }[]
  lamps: number
  /** Rated lumens of each lamp; null for absolute photometry (−1 in the file). */
  lampLumens: number | null
  inputW: number
  /** Luminous opening as in the file, mm; a negative number is the diameter of a round one. */
  openingMm: { width: number; length: number; height: number }
  symmetry: Symmetry
  /** From nadir (straight down), ascending; 0 to 90, 90 to 180 or 0 to 180. */
  verticalDeg: readonly number[]
  /** Azimuths in [0, 360), ascending, symmetric planes expanded; a single 0 for rotational symmetry. */
  horizontalDeg: readonly number[]
  /** One row for each azimuth, cd; multiplier and ballast factors are applied. */
  candela: readonly (readonly number[])[]
  /** Notes for the user: tilt skipped, factors applied. */
  notes: readonly string[]
}

export type ReadLm63 = { ok: true; photometry: Photometry } | { ok: false; why: string }

/** Far above any measured file: a tenth of a degree over the sphere in planes two degrees apart is about 2 MB. */
export const LM63_LIMITS = {
  chars: 8_000_000,
  vertical: 3601,
  horizontal: 721,
  values: 1_000_000,
  tiltPairs: 1000,
  candela: 1e15,
} as const

const COUNT = (most: number) => ({
  fits: (v: number) => Number.isInteger(v) && v >= 1 && v <= most,
  expected: `a whole number from 1 to ${most}`,
})
const ABOVE_ZERO = { fits: (v: number) => v > 0, expected: 'a number above 0' }
const FROM_ZERO = { fits: (v: number) => v >= 0, expected: 'a number from 0 up' }

export function readLm63(text: string): ReadLm63 {
  if (text.length > LM63_LIMITS.chars) {
    const [has, most] = [text.length, LM63_LIMITS.chars].map((n) => Math.round(n / 1e5) / 10)
    return {
      ok: false,
      why: `The file holds ${has} million characters; a photometric file is never over ${most} million.`,
    }
  }
  const head = readHead(text)
  if (!head.ok) return head
  const notes = [...head.notes]
  const numbers = readNumbers(text, head.at, head.line)
  if (head.tilt) notes.push(...skipTilt(numbers))
  const main = readMain(numbers, head.edition, notes)
  const shape = readIntensities(numbers, main, head.edition, notes)
  if (numbers.fault() === null) numbers.end(main.vertical * main.horizontal)
  const why = numbers.fault()
  if (why !== null) return { ok: false, why }
  const { lamps, lampLumens, inputW, openingMm } = main
  const { verticalDeg, horizontalDeg, candela, symmetry } = shape
  return {
    ok: true,
    photometry: {
      edition: head.edition,
      keywords: head.keywords,
      lamps,
      lampLumens,
      inputW,
      openingMm,
      symmetry,
      verticalDeg,
      horizontalDeg,
      candela,
      notes,
    },
  }
}

type Head =
  | { ok: false; why: string }
  | {
      ok: true
      edition: Edition
      keywords: { name: string; text: string }[]
      tilt: boolean
      notes: string[]
      /** Index at which the numbers begin. */
      at: number
      line: number
    }

const FIRST_LINE = /^(?:IES(?:NA)?:\s*LM-63-(1986|1991|1995|2002|2019)|IESNA(91))$/i
/** Required from 2002 on. */
const REQUIRED = ['TEST', 'TESTLAB', 'ISSUEDATE', 'MANUFAC']

/** First line, keywords, TILT. Lines of a 1986 file before TILT are free text. */
function readHead(text: string): Head {
  const keywords: { name: string; text: string }[] = []
  let edition: Edition = 1986
  let strange = 0
  let at = text.charCodeAt(0) === 0xfeff ? 1 : 0
  for (let line = 1; at < text.length; line++) {
    const end = endOfLine(text, at)
    const content = text.slice(at, Math.min(end.to, at + 1000)).trim()
    at = end.next
    if (line === 1 && /^IES/i.test(content)) {
      const found = FIRST_LINE.exec(content)
      if (!found) return { ok: false, why: editionFault(content) }
      edition = Number(found[1] ?? 1991) as Edition
      continue
    }
    const tilt = /^TILT\s*=\s*(.*)$/i.exec(content)
    if (tilt) {
      const way = tilt[1]!.toUpperCase()
      if (way !== 'NONE' && way !== 'INCLUDE') return { ok: false, why: tiltFault(line, tilt[1]!) }
      const notes = edition === 1986 ? [] : headNotes(edition, keywords, strange)
      return { ok: true, edition, keywords, tilt: way === 'INCLUDE', notes, at, line: line + 1 }
    }
    if (content !== '' && !takeKeyword(content, keywords)) strange++
  }
  return {
    ok: false,
    why: 'No line begins with TILT=; expected TILT=NONE or TILT=INCLUDE before the numbers. Is it an LM-63 photometric file?',
  }
}

const MAX_KEYWORDS = 1000

/** Adds a keyword line, as "[LAMP] Invented", to the list; [MORE] continues the one before. Returns false when the line is no keyword. */
function takeKeyword(content: string, keywords: { name: string; text: string }[]): boolean {
  const [, name, text] = /^\[([^\]]*)\](.*)$/.exec(content) ?? []
  if (name === undefined || text === undefined) return false
  const last = keywords.at(-1)
  if (name.toUpperCase() === 'MORE' && last) last.text = `${last.text} ${text.trim()}`.slice(0, 2000)
  else if (keywords.length < MAX_KEYWORDS) keywords.push({ name: name.toUpperCase(), text: text.trim().slice(0, 256) })
  return true
}

/** Lines end in CR-LF, LF or CR. */
function endOfLine(text: string, from: number): { to: number; next: number } {
  let to = from
  while (to < text.length && text[to] !== '\n' && text[to] !== '\r') to++
  return { to, next: text[to] === '\r' && text[to + 1] === '\n' ? to + 2 : to + 1 }
}

const editionFault = (content: string) =>
  `line 1: "${truncate(content)}" does not fit; expected IES:LM-63-2019, IESNA:LM-63-2002, IESNA:LM-63-1995 or IESNA91 (files of 1986 have no such line).`

const tiltFault = (line: number, content: string) =>
  content === ''
    ? `line ${line}: nothing stands after TILT=; expected TILT=NONE or TILT=INCLUDE.`
    : `line ${line}: TILT=${truncate(content)} names another file, which is not read; expected TILT=NONE or TILT=INCLUDE.`

function headNotes(edition: Edition, keywords: readonly { name: string }[], strange: number): string[] {
  const notes: string[] = []
  const missing = edition >= 2002 ? REQUIRED.filter((name) => !keywords.some((k) => k.name === name)) : []
  if (missing.length > 0)
    notes.push(`The ${edition} edition asks for ${missing.map((m) => `[${m}]`).join(', ')}; not in the file.`)
  if (strange > 0)
    notes.push(
      `${strange === 1 ? 'One line before TILT that is no keyword was' : `${strange} lines before TILT that are no keywords were`} skipped.`,
    )
  return notes
}

/** Skips lamp position, count, angles and factors: they correct for a tilted lamp, and no lamp is tilted here. */
function skipTilt(numbers: Numbers): string[] {
  numbers.next('lamp position of the tilt table')
  const pairs = numbers.next('number of tilt angles', COUNT(LM63_LIMITS.tiltPairs))
  for (let i = 0; i < pairs && numbers.fault() === null; i++) numbers.next(() => `tilt angle ${i + 1}`)
  for (let i = 0; i < pairs && numbers.fault() === null; i++) numbers.next(() => `tilt factor ${i + 1}`)
  return [`Its tilt table (${pairs} angles) was skipped: intensities are those of the lamp as it was measured.`]
}

interface Main {
  lamps: number
  lampLumens: number | null
  factor: number
  vertical: number
  horizontal: number
  openingMm: Photometry['openingMm']
  inputW: number
}

/** Reads the line of ten numbers and the line of three. */
function readMain(numbers: Numbers, edition: Edition, notes: string[]): Main {
  const lamps = numbers.next('number of lamps', COUNT(10_000))
  const lumens = numbers.next('lumens per lamp', {
    fits: (v) => v === -1 || v >= 0,
    expected: '-1 (absolute photometry) or a number from 0 up',
  })
  const multiplier = numbers.next('candela multiplier', ABOVE_ZERO)
  const vertical = numbers.next('number of vertical angles', {
    fits: (v) => Number.isInteger(v) && v >= 2 && v <= LM63_LIMITS.vertical,
    expected: `a whole number from 2 to ${LM63_LIMITS.vertical}`,
  })
  const horizontal = numbers.next('number of horizontal angles', COUNT(LM63_LIMITS.horizontal))
  numbers.next('photometric type', {
    fits: (v) => v === 1,
    expected: '1 (type C: planes round the axis straight down)',
    known: { 2: 'type B, for floodlights, is not read', 3: 'type A, for vehicle lamps, is not read' },
  })
  const units = numbers.next('units type', { fits: (v) => v === 1 || v === 2, expected: '1 (feet) or 2 (metres)' })
  const mm = units === 1 ? 304.8 : 1000
  const width = numbers.next('width of the opening') * mm
  const length = numbers.next('length of the opening') * mm
  const height = numbers.next('height of the opening') * mm
  const ballast = numbers.next('ballast factor', ABOVE_ZERO)
  // A factor up to 1995; later "future use" (2002) and "file generation type" (2019), which are not factors.
  const second = edition <= 1995 ? numbers.next('ballast-lamp photometric factor', ABOVE_ZERO) : 1
  if (edition > 1995) numbers.next(edition === 2019 ? 'file generation type' : 'future use')
  const inputW = numbers.next('input watts', FROM_ZERO)
  const factor = multiplier * ballast * second
  if (factor !== 1)
    notes.push(`Intensities are multiplied by ${Number(factor.toPrecision(6))} (multiplier and ballast factors).`)
  if (vertical * horizontal > LM63_LIMITS.values) {
    numbers.refuse(
      `${vertical} vertical by ${horizontal} horizontal angles are over ${LM63_LIMITS.values} values; no measurement has so many.`,
    )
  }
  const openingMm = { width, length, height }
  return { lamps, lampLumens: lumens === -1 ? null : lumens, factor, vertical, horizontal, openingMm, inputW }
}

type Intensities = Pick<Photometry, 'symmetry' | 'verticalDeg' | 'horizontalDeg' | 'candela'>

function readIntensities(numbers: Numbers, main: Main, edition: Edition, notes: string[]): Intensities {
  const none = { symmetry: 'axial', verticalDeg: [], horizontalDeg: [], candela: [] } as const
  const vertical = readAngles(numbers, main.vertical, 'vertical', 180)
  const horizontal = readAngles(numbers, main.horizontal, 'horizontal', 360)
  if (numbers.fault() !== null) return none
  const fault = angleFault(vertical, horizontal)
  if (fault !== null) numbers.refuse(fault)
  const rows: number[][] = []
  let most = 0
  for (const [h, angle] of horizontal.entries()) {
    const row: number[] = []
    for (let v = 0; v < vertical.length && numbers.fault() === null; v++) {
      const field = () =>
        `candela value ${v + 1} of ${vertical.length} at horizontal angle ${angle} (plane ${h + 1} of ${horizontal.length})`
      row.push(numbers.next(field, FROM_ZERO) * main.factor)
      most = Math.max(most, row[v]!)
    }
    if (numbers.fault() !== null) return none
    rows.push(row)
  }
  if (most === 0) numbers.refuse('The candela values are all 0; expected light in some direction.')
  if (!(most <= LM63_LIMITS.candela))
    numbers.refuse('Its greatest intensity is beyond any lamp; expected at most 1e15 cd.')
  const round = expandPlanes(horizontal, rows, edition)
  notes.push(...round.notes)
  return {
    symmetry: round.symmetry,
    verticalDeg: vertical,
    horizontalDeg: round.horizontalDeg,
    candela: round.rows,
  }
}

function readAngles(numbers: Numbers, count: number, which: string, most: number): number[] {
  const angles: number[] = []
  for (let i = 0; i < count && numbers.fault() === null; i++) {
    const before = angles[i - 1]
    angles.push(
      numbers.next(() => `${which} angle ${i + 1} of ${count}`, {
        fits: (v) => v >= 0 && v <= most && (before === undefined || v > before),
        expected:
          before === undefined
            ? `an angle from 0 to ${most}`
            : `an angle over ${before} and at most ${most}: they rise`,
      }),
    )
  }
  return angles
}
