// lampwright draw: a sheet of the lamp at true size, as DXF, SVG or PDF.

import { checkDesign } from '../checks/check.ts'
import { findingsIn } from '../checks/finding.ts'
import { refusalText } from '../drawing/refusals.ts'
import { drawSheet, listSheets } from '../drawing/sheets.ts'
import type { Paper } from '../drawing/tiles.ts'
import type { Drawing } from '../drawing/types.ts'
import { drawingDxf } from '../files/drawingDxf.ts'
import { drawingPdf } from '../files/drawingPdf.ts'
import { drawingSvg } from '../files/drawingSvg.ts'
import { designHash } from '../lamp/designHash.ts'
import type { Lamp } from '../lamp/schema.ts'
import { PAPER_MM, workshopOf } from '../library/typicalWorkshop.ts'
import { localDate } from '../num/localDate.ts'
import { inSystem, sizeNumber, sizeText } from '../num/quantity.ts'
import type { UnitSystem } from '../num/unitSystem.ts'
import { columns, fixed, wrapped } from './format.ts'
import { EXIT, stripControls, type Tools, UserError } from './io.ts'
import { openLamp } from './lampFile.ts'
import { plainName } from './names.ts'
import { didYouMean } from './nearest.ts'
import { onlyPositional, type Parsed, UNITS, unitsOf } from './options.ts'
import { severeLine } from './severeLine.ts'
import { expectWritable, writeFile } from './writeFile.ts'

export const DRAW_OPTIONS = {
  sheet: { type: 'string', value: 'NAME' },
  format: { type: 'string', value: 'dxf|svg|pdf' },
  out: { type: 'string', value: 'FILE' },
  paper: { type: 'string', value: 'A4|Letter' },
  list: { type: 'boolean' },
  force: { type: 'boolean' },
  units: UNITS,
  help: { type: 'boolean' },
} as const

const WIDTH = 96
const FORMATS = ['dxf', 'svg', 'pdf'] as const
type Format = (typeof FORMATS)[number]
const PAPERS = Object.keys(PAPER_MM) as Paper[]

export async function drawCommand(parsed: Parsed, { io }: Tools): Promise<number> {
  const lamp = await openLamp(onlyPositional(parsed, 'a lamp file or the name of an example', 'draw'))
  const system = unitsOf(parsed)
  if (parsed.flags.has('list')) {
    io.out(listText(lamp, system))
    return EXIT.fine
  }
  const sheet = parsed.values.get('sheet')
  const listed = listSheets(lamp, system)
  const names = listed.map((s) => s.name)
  if (sheet === undefined) throw new UserError(`draw needs --sheet NAME; there is ${names.join(', ')} (see --list).`)
  if (!names.includes(sheet))
    throw new UserError(stripControls(`No sheet ${sheet}${didYouMean(sheet, names)}; there is ${names.join(', ')}.`))
  const format = oneOf(parsed, 'format', FORMATS, 'pdf')
  const paper = oneOf(parsed, 'paper', PAPERS, workshopOf(lamp).paper)
  const out = parsed.values.get('out') ?? `${plainName(`${lamp.name}-${sheet}`)}.${format}`
  if (out === '-' && format === 'pdf') throw new UserError('--out -: a PDF goes into a file, not to the terminal.')
  if (out !== '-') expectWritable(out, parsed.flags.has('force'))
  // A printed template is scribed round: it has the finished sizes.
  const context = { date: localDate(), hash: designHash(lamp), withKerf: format !== 'pdf', system }
  const drawn = drawSheet(lamp, sheet, context)
  if (!drawn.ok) throw new UserError(stripControls(`${sheet} can’t be drawn: ${refusalText(drawn, 'name')}`))
  const content = await written(drawn.drawing, format, paper)
  if (out === '-') io.out(typeof content === 'string' ? content : '')
  else {
    writeFile(out, content, parsed.flags.has('force'))
    io.out(`Wrote ${stripControls(out)}: ${stripControls(drawn.drawing.title)}, at true size.\n`)
  }
  io.err(severeLine(findingsIn(checkDesign(lamp), system), ' All of them: lampwright check.'))
  return EXIT.fine
}

async function written(drawing: Drawing, format: Format, paper: Paper): Promise<string | Uint8Array> {
  if (format === 'pdf') return drawingPdf(drawing, paper)
  return format === 'dxf' ? drawingDxf(drawing) : drawingSvg(drawing)
}

function oneOf<T extends string>(parsed: Parsed, name: string, all: readonly T[], otherwise: T): T {
  const text = parsed.values.get(name)
  if (text === undefined) return otherwise
  const found = all.find((a) => a.toLowerCase() === text.toLowerCase())
  if (found) return found
  throw new UserError(`--${name}: ${JSON.stringify(text)} does not fit; expected ${all.join(', ')}.`)
}

const sizeOf = ({ widthMm, heightMm }: { widthMm: number; heightMm: number }): string =>
  `${sizeNumber(fixed(widthMm, 1), widthMm)} × ${sizeText(fixed(heightMm, 1), heightMm)}`

function listText(lamp: Lamp, system: UnitSystem): string {
  const listed = listSheets(lamp, system)
  const drawable = listed.flatMap((s) =>
    s.ok ? [[stripControls(s.name), inSystem(sizeOf(s), system), stripControls(s.title)]] : [],
  )
  const refused = listed.flatMap((s) =>
    s.ok ? [] : [`${stripControls(s.name)}: ${stripControls(refusalText(s, 'name'))}`],
  )
  const lines = [
    `${stripControls(lamp.name)}: sheets, with the finished size of what is cut`,
    ...columns(drawable).map((l) => `  ${l}`),
    ...(refused.length > 0 ? ['', 'Not drawn'] : []),
    ...refused.map((l) => `  ${wrapped(l, WIDTH, '    ')}`),
  ]
  return `${lines.join('\n')}\n`
}
