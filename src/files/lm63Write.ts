// Writes a photometric file of ANSI/IES LM-63 (2002 or 2019), type C, from a beam sheet. Nadir, vertical 0°, is the lamp's axis; horizontal ψ is
// −φ, since the file counts counterclockwise from behind the emitter and φ from the target (lm63Profile.ts reads it so).
// From memory: the order of the fields, the sizes of a round opening (both negative), 1.00010 for "computer simulation" among the file generation
// types of 2019, lines of at most 256 characters in ASCII that end in CR LF.
import type { DirectionLight } from '../beam/directions.ts'
import { type IntensityTable, makeIntensityTable } from '../beam/intensityTable.ts'
import { elementsOf, isRectangle, pieceHalves } from '../lamp/assembly.ts'
import { halfExtents } from '../lamp/facePlate.ts'
import type { Lamp } from '../lamp/schema.ts'

export type Lm63Edition = 2002 | 2019

export interface Lm63Facts {
  edition: Lm63Edition
  /** YYYY-MM-DD. */
  date: string
  /** Of the program. */
  version: string
  /** Electrical input, W, and what it is, as "those of the emitters alone"; null: unknown, written as 0. */
  input: { watts: number; of: string } | null
  /** Which light was traced, in words; a sentence. */
  light?: string
}

/** What the file is made of: a beam sheet. */
export interface Lm63Light extends DirectionLight {
  lamp: string
  seed: number
}

export type Lm63Written =
  | {
      ok: true
      text: string
      /** Of the table: vertical and horizontal angles, and its lumens by the zonal sum. */
      vertical: number
      horizontal: number
      lumens: number
      notes: string[]
    }
  | { ok: false; why: string }

const MOST_COLUMNS = 250
const NUMBER_COLUMNS = 78
/** ± at 95 % of a figure from sixteen batches. */
const T95 = 2.131

/** The file's text, or why there is none, in words. */
export function lm63Text(light: Lm63Light, lamp: Lamp, facts: Lm63Facts): Lm63Written {
  const made = makeIntensityTable(light)
  if (!made.ok) return made
  const { table } = made
  const planes = planesOf(table)
  const opening = openingM(lamp)
  const notes = [...table.notes]
  if (facts.input === null) notes.push('The electrical input is unknown; 0 W stands in the file.')
  const lines = [
    facts.edition === 2019 ? 'IES:LM-63-2019' : 'IESNA:LM-63-2002',
    ...keywordLines(light, table, facts),
    'TILT=NONE',
    // One lamp, −1: absolute photometry; a multiplier of 1; type C; metres.
    `1 -1 1 ${table.thetaDeg.length} ${planes.psiDeg.length} 1 2 ${opening.map((m) => digits(m)).join(' ')}`,
    `1 ${facts.edition === 2019 ? '1.00010' : '1'} ${digits(facts.input?.watts ?? 0)}`,
    ...numberLines(table.thetaDeg),
    ...numberLines(planes.psiDeg),
    ...planes.rows.flatMap(numberLines),
  ]
  return {
    ok: true,
    text: `${lines.join('\r\n')}\r\n`,
    vertical: table.thetaDeg.length,
    horizontal: planes.psiDeg.length,
    lumens: table.zonalLm,
    notes,
  }
}

/** ψ = −φ, ascending, and the first plane again at 360°; 0 alone for a round beam. */
function planesOf({ phiDeg, candela }: IntensityTable): { psiDeg: number[]; rows: number[][] } {
  if (phiDeg.length === 1) return { psiDeg: [0], rows: candela }
  const [first = []] = candela
  const others = candela.slice(1).toReversed()
  return { psiDeg: [...phiDeg, 360], rows: [first, ...others, first] }
}

/** A share: less than this of a figure is rounding, no error of tracing. */
const EXACT = 1e-9

function keywordLines(light: Lm63Light, table: IntensityTable, facts: Lm63Facts): string[] {
  const { figures } = light
  const plusMinus = (name: 'fluxOutLm' | 'peakIntensityCd' | 'beamAngleDeg', what: string, unit: string) => {
    const figure = figures[name]
    if (!figure) return ''
    const value = `${what} ${digits(figure.value, 5)} ${unit}`
    // Nothing is lost by chance: what is left is rounding.
    if (T95 * figure.se < EXACT * Math.abs(figure.value)) return `${value}, exact for this model. `
    return `${value} +- ${digits(T95 * figure.se, 2)} (95 %). `
  }
  const traced = `${light.rays} rays, seed ${light.seed}`
  const notes = [
    'Vertical 0 (nadir) is the axis of the lamp, from its face to the target. Horizontal 0 is the +x of its drawing; horizontal angles count counterclockwise as seen from behind the lamp.',
    'Absolute photometry: the candela are those of the whole lamp.',
    `${plusMinus('fluxOutLm', 'Light that leaves the lamp:', 'lm')}Zonal sum of this table: ${digits(table.zonalLm, 5)} lm.`,
    `${plusMinus('peakIntensityCd', 'Peak:', 'cd')}${plusMinus('beamAngleDeg', 'Beam angle:', 'degrees')}`.trim(),
    table.discDeg === null
      ? 'The beam is taken as round: intensities are means over azimuth.'
      : `Intensities near the axis are means over a disc of ${digits(table.discDeg, 2)} degrees half angle.`,
    ...(figures.inverseSquareFromM
      ? [
          `The intensities hold from about ${digits(figures.inverseSquareFromM.value, 2)} m on; nearer by the light does not fall with the square of the distance.`,
        ]
      : []),
    ...(facts.light ? [facts.light] : []),
    facts.input ? `Input watts are ${facts.input.of}.` : 'Input watts are unknown: 0 stands for that.',
    ...table.notes,
  ].filter((note) => note !== '')
  return [
    ...keyword('TEST', `Computed prediction by ray tracing (${traced}); nothing was measured`),
    ...keyword('TESTLAB', `None. Lampwright ${facts.version}, a computer program`),
    ...keyword('ISSUEDATE', facts.date),
    ...keyword('MANUFAC', 'One-off, built by its owner'),
    ...keyword('LUMINAIRE', light.lamp),
    ...notes.flatMap((note, i) => keyword(i === 0 ? 'OTHER' : 'MORE', note)),
  ]
}

/** A keyword's lines; what doesn't fit goes on under [MORE]. */
function keyword(name: string, text: string): string[] {
  const words = ascii(text)
    .split(/\s+/)
    .filter((word) => word !== '')
  const lines: string[] = []
  let line = `[${name}]`
  for (const word of words) {
    const part = word.slice(0, MOST_COLUMNS - 10)
    if (line.length + 1 + part.length > MOST_COLUMNS) {
      lines.push(line)
      line = '[MORE]'
    }
    line += ` ${part}`
  }
  return [...lines, line]
}

/** Letters without their accents, signs that have a plain twin; square brackets and TILT= have a meaning of their own in such files. */
function ascii(text: string): string {
  const plain = text
    .normalize('NFKD')
    .replace(/\p{M}/gu, '')
    .replace(/[’‘]/g, "'")
    .replace(/[“”]/g, '"')
    .replace(/[–—−]/g, '-')
    .replace(/±/g, '+-')
    .replace(/°/g, ' degrees')
    .replace(/\[/g, '(')
    .replace(/\]/g, ')')
    .replace(/TILT\s*=/gi, 'TILT ')
    .replace(/\s+/g, ' ')
  return plain.replace(/[^\x20-\x7e]/gu, '?')
}

const digits = (value: number, count = 6): string => String(Number(value.toPrecision(count)))

function numberLines(values: readonly number[]): string[] {
  const lines: string[] = []
  let line = ''
  for (const value of values) {
    const word = digits(value)
    if (line !== '' && line.length + 1 + word.length > NUMBER_COLUMNS) {
      lines.push(line)
      line = ''
    }
    line = line === '' ? word : `${line} ${word}`
  }
  return [...lines, line]
}

/**
 * Width, length, height of the luminous opening, m: the foremost element, the tunnel's mouth, or the face. Negative: a diameter. Length lies along
 * horizontal 0, the lamp's x (from memory).
 */
function openingM(lamp: Lamp): [number, number, number] {
  const last = elementsOf(lamp).at(-1)
  if (last) return opening(pieceHalves(last))
  const { tunnel, face } = lamp
  if (tunnel) {
    const { outMm, outHeightMm = outMm } = tunnel
    return opening({
      round: !isRectangle(tunnel) && tunnel.sides !== 4,
      xMm: outMm / 2,
      yMm: outHeightMm / 2,
    })
  }
  const [xMm, yMm] = halfExtents(face)
  return opening({ round: face.shape === 'round', xMm, yMm })
}

const opening = ({ round, xMm, yMm }: { round: boolean; xMm: number; yMm: number }): [number, number, number] =>
  round ? [-xMm / 500, -xMm / 500, 0] : [yMm / 500, xMm / 500, 0]
