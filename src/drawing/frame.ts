// Frame, title block, notes and tables: what stands about the part.

import type { Lamp } from '../lamp/schema.ts'
import { workshopOf } from '../library/typicalWorkshop.ts'
import type { Box } from '../num/grid.ts'
import { allInSystem, inSystem } from '../num/quantity.ts'
import type { UnitSystem } from '../num/unitSystem.ts'
import { label, linePath, polygonPath, textWidthMm } from './path.ts'
import { decimal, MM, mm } from './sizes.ts'
import type { Item, Layer, Made, WorkshopEntry } from './types.ts'

/** Of the title block: with its margins it fits one page of A4 or Letter. */
const WIDTH_MM = 172
const PAD_MM = 5
const GAP_MM = 10
const NOTE_MM = 2.5
const NOTE_STEP_MM = 4.4
/** Mean width of running text’s letters over a capital’s height: less than of figures (measured on our notes in Helvetica: 0.66). */
const NOTE_LETTER = 0.69
const ROW_MM = 9

export interface TitleContext {
  /** As it is to be printed: the caller's clock, not this module's. */
  date: string
  /** Of the design, it distinguishes the drawing from an older one's; see lamp/designHash.ts. */
  hash: string
  /** Of what is written on it; its lines are in millimetres. Absent: metric. */
  system?: UnitSystem
}

type Sheet = Extract<Made, { ok: true }>

/** Items round a part that spans `box`. `cutWords`: what the kerf did. */
export function frameItems(
  lamp: Lamp,
  title: string,
  made: Sheet,
  box: Box,
  cutWords: string,
  context: TitleContext,
): Item[] {
  const x = box.fromX
  const { system = 'metric' } = context
  const notes = [...made.notes, ...typicalNotes(lamp, made.restsOn), TOLERANCE].flatMap((n) =>
    wrapped(`– ${inSystem(n, system)}`),
  )
  const notesTop = box.fromY - GAP_MM
  const blockTop = notesTop - notes.length * NOTE_STEP_MM - 3
  const rows = allInSystem(titleRows(lamp, title, made, cutWords, context), system)
  const blockBottom = blockTop - rows.length * ROW_MM
  const table = made.table
    ? tableItems(made.table, box.toX + GAP_MM, box.toY, blockBottom)
    : { items: [], toX: box.toX }
  const toX = Math.max(table.toX, x + WIDTH_MM)
  return [
    ...table.items,
    ...notes.map((text, i) => label('text', [x, notesTop - (i + 1) * NOTE_STEP_MM + 1.4], text, { heightMm: NOTE_MM })),
    ...blockItems(rows, x, blockTop),
    rectangle('frame', {
      ...{ fromX: x - PAD_MM, toX: toX + PAD_MM },
      ...{ fromY: blockBottom - PAD_MM, toY: box.toY + PAD_MM },
    }),
  ]
}

/** ISO 2768-1 (1989), class m, from memory: ± 0.1 mm up to 6, 0.2 to 30, 0.3 to 120, 0.5 to 400, 0.8 to 1000. The class is our choice. */
const TOLERANCE = `Sizes without a tolerance: ISO 2768-1, class m: ± ${mm(0.1)} ${MM} up to ${mm(6)} ${MM}, ± ${mm(0.2)} up to ${mm(30)}, ± ${mm(0.3)} up to ${mm(120)}, ± ${mm(0.5)} up to ${mm(400)}, ± ${mm(0.8)} up to ${mm(1000)}.`

const TYPICAL: Record<WorkshopEntry, (lamp: Lamp) => string> = {
  kerfMm: (lamp) => `kerf ${mm(workshopOf(lamp).kerfMm)} ${MM}`,
  sheetMm: (lamp) =>
    `sheet at hand ${mm(workshopOf(lamp).sheetMm.widthMm)} × ${mm(workshopOf(lamp).sheetMm.heightMm)} ${MM}`,
  tunnelThicknessMm: (lamp) => `thickness of the tunnel’s sheet ${mm(workshopOf(lamp).tunnelThicknessMm)} ${MM}`,
  tunnelMaterial: (lamp) => `material “${workshopOf(lamp).tunnelMaterial}”`,
  seam: (lamp) => `seam: ${seamWords(lamp)}`,
  bendK: (lamp) => `K factor ${decimal(workshopOf(lamp).bendK)}`,
  lensRing: (lamp) => {
    const { widthMm, lipMm, heightMm, screws, screwMm } = workshopOf(lamp).lensRing
    return `lens ring ${mm(widthMm)} ${MM} wide with a lip of ${mm(lipMm)} ${MM}, ${mm(heightMm)} ${MM} thick, ${screws} screws of ${mm(screwMm)} ${MM}`
  },
}

function seamWords(lamp: Lamp): string {
  const { seam } = workshopOf(lamp)
  return seam.kind === 'butt' ? 'edge on edge' : `flap of ${mm(seam.widthMm)} ${MM}`
}

/** What the lamp doesn’t say and the sheet rests on. */
function typicalNotes(lamp: Lamp, restsOn: readonly WorkshopEntry[]): string[] {
  const missing = restsOn.filter((entry) => lamp.workshop?.[entry] === undefined)
  if (missing.length === 0) return []
  return [
    `Typical values taken where the lamp says nothing: ${missing.map((entry) => TYPICAL[entry](lamp)).join('; ')}.`,
  ]
}

interface Cell {
  what: string
  text: string
  share: number
}

const cell = (what: string, text: string, share: number): Cell => ({ what, text, share })

const titleRows = (
  lamp: Lamp,
  title: string,
  { stock }: Sheet,
  cutWords: string,
  { date, hash }: TitleContext,
): Cell[][] => [
  [cell('Lamp', lamp.name, 0.5), cell('Sheet', title, 0.5)],
  [
    cell('Material', stock.material || 'not stated', 0.4),
    cell('Thickness', stock.thicknessMm === null ? 'not stated' : `${mm(stock.thicknessMm)} ${MM}`, 0.2),
    cell('Cut', cutWords, 0.4),
  ],
  [
    cell('Scale', `1 : 1, ${MM}`, 0.16),
    cell('Date', date, 0.17),
    cell('Drawn by', workshopOf(lamp).drawnBy, 0.34),
    cell('Design', hash.slice(0, 16), 0.33),
  ],
]

function blockItems(rows: readonly (readonly Cell[])[], x: number, top: number): Item[] {
  const bottom = top - rows.length * ROW_MM
  const cells = rows.flatMap((row, i) => {
    const y = top - (i + 1) * ROW_MM
    let share = 0
    return row.flatMap(({ what, text, share: width }): Item[] => {
      const fromX = x + share * WIDTH_MM
      share += width
      const heightMm = i === 0 ? 3.5 : 3
      return [
        label('frame', [fromX + 1.5, y + ROW_MM - 2.6], what, { heightMm: 1.6 }),
        fitted([fromX + 1.5, y + 1.8], text, heightMm, width * WIDTH_MM - 3),
        ...(fromX > x ? [linePath('frame', [fromX, y], [fromX, y + ROW_MM])] : []),
      ]
    })
  })
  const lines = rows
    .slice(1)
    .map((_, i) => linePath('frame', [x, top - (i + 1) * ROW_MM], [x + WIDTH_MM, top - (i + 1) * ROW_MM]))
  return [rectangle('frame', { fromX: x, toX: x + WIDTH_MM, fromY: bottom, toY: top }), ...lines, ...cells]
}

/** Text made smaller until it fits, down to a height that can be read; then cut off. */
function fitted(at: readonly [number, number], text: string, heightMm: number, widthMm: number): Item {
  const needed = textWidthMm(text, heightMm)
  const least = 1.8
  const height = Math.max(least, Math.min(heightMm, (heightMm * widthMm) / needed))
  const room = Math.floor(widthMm / textWidthMm('n', height))
  const letters = [...text]
  const isTooLong = height === least && letters.length > room
  const shown = isTooLong ? `${letters.slice(0, Math.max(0, room - 1)).join('')}…` : text
  return label('text', at, shown, { heightMm: height })
}

const rectangle = (layer: Layer, { fromX, fromY, toX, toY }: Box): Item =>
  polygonPath(layer, [
    [fromX, fromY],
    [toX, fromY],
    [toX, toY],
    [fromX, toY],
  ])

/** Rows of a table in as many columns side by side as fit between top and bottom; right of the part. */
function tableItems(rows: readonly string[][], x: number, top: number, bottom: number): { items: Item[]; toX: number } {
  const [head, ...body] = rows
  if (!head) return { items: [], toX: x }
  const widths = head.map((_, i) => Math.max(...rows.map((r) => textWidthMm(r[i] ?? '', NOTE_MM))) + 3)
  const width = widths.reduce((a, b) => a + b, 0)
  const fits = Math.max(20, Math.floor((top - bottom) / NOTE_STEP_MM) - 1)
  const columns = Math.ceil(body.length / fits)
  const each = Math.ceil(body.length / columns)
  const items = Array.from({ length: columns }, (_, k) => k).flatMap((k) => {
    const left = x + k * (width + 5)
    return [head, ...body.slice(k * each, (k + 1) * each)].flatMap((row, i) => {
      const y = top - (i + 1) * NOTE_STEP_MM + 1.2
      let at = left
      return row.map((text, j) => {
        const item = label('text', [at, y], text, { heightMm: NOTE_MM })
        at += widths[j] ?? 0
        return item
      })
    })
  })
  const rules = Array.from({ length: columns }, (_, k) => {
    const left = x + k * (width + 5)
    return linePath('frame', [left, top - NOTE_STEP_MM], [left + width - 3, top - NOTE_STEP_MM])
  })
  return { items: [...items, ...rules], toX: x + columns * (width + 5) - 5 }
}

/** At words, to the width of the title block. */
function wrapped(text: string): string[] {
  const room = Math.floor(WIDTH_MM / (NOTE_LETTER * NOTE_MM))
  const lines: string[] = []
  let line = ''
  // A number stays with its unit.
  for (const joined of text.replace(/(\d) (mm|in|m|K)\b/g, '$1\u00a0$2').split(' ')) {
    const word = joined.replace('\u00a0', ' ')
    if (line && line.length + 1 + word.length > room) {
      lines.push(line)
      line = `  ${word}`
    } else line = line ? `${line} ${word}` : word
  }
  return [...lines, line]
}
