// Supply, fuses, drivers and boards as blocks; channels that are alike share a row, with their number.

import type { PowerReport, WireRun } from '../../electrothermal/result.ts'
import type { UnitSystem } from '../../num/unitSystem.ts'
import { gaugesIn, groupBlocks, hasGroupBlocks } from '../wiringBlocks.ts'
import { INK, line, type Point, shape, text, textWidth } from './figureMarks.ts'
import type { Figure, Mark } from './model.ts'

const WIDTH = 480
const ROW = 48
const BOX_HIGH = 30
const BOX_WIDE = 66
const MOST_ROWS = 8

/** Null without a main wire. `flagged`: runs that a severe finding names. */
export function wiringFigure(
  { wiring: metric, groups }: Pick<PowerReport, 'wiring' | 'groups'>,
  flagged: ReadonlySet<string>,
  system: UnitSystem = 'metric',
): Figure | null {
  const wiring = gaugesIn(metric, system)
  const main = wiring.find((w) => w.part === 'main')
  if (!main) return null
  const blocks = groupBlocks(wiring, groups)
  const all = blocks.flatMap((block) => block.rows.map((row) => ({ block, row })))
  const shown = all.slice(0, MOST_ROWS)
  const height = Math.max(1, shown.length) * ROW + 8 + (all.length > shown.length ? 12 : 0)
  const middle = (Math.max(1, shown.length) * ROW) / 2 + 4
  const columns = hasGroupBlocks(blocks) ? 6 : 5
  const at = (column: number) => 1 + (column * (WIDTH - 2 - BOX_WIDE)) / (columns - 1)
  const yOf = (i: number) => (i + 0.5) * ROW + 4
  const [fuseAt, driverAt, boardAt] = [columns - 3, columns - 2, columns - 1]
  const hasContactor = main.to.includes('contactor')
  const marks: Mark[] = [
    ...wire([at(0) + BOX_WIDE, middle], [at(1), middle], main),
    ...box([at(0), middle], ['supply', `${main.amps.toFixed(1)} A`]),
    ...box(
      [at(1), middle],
      [main.fuse ? `fuse ${main.fuse.amps} A` : 'no main fuse', ...(hasContactor ? ['contactor'] : [])],
      !main.fuse || flagged.has('main'),
    ),
    ...blocks.flatMap((block) => {
      const own = shown.flatMap((s, i) => (s.block === block ? [yOf(i)] : []))
      if (own.length === 0) return []
      const groupY = own.reduce((sum, y) => sum + y, 0) / own.length
      const isFlagged = block.feed !== null && flagged.has(block.feed.id)
      const forks = own.map((y) => fork([at(fuseAt - 1) + BOX_WIDE, columns === 6 ? groupY : middle], [at(fuseAt), y]))
      if (columns === 5) return forks
      return [
        fork([at(1) + BOX_WIDE, middle], [at(2), groupY]),
        ...box([at(2), groupY], [block.name, ...(block.words.length > 0 ? block.words : ['no relay'])], isFlagged),
        ...forks,
      ]
    }),
    ...shown.flatMap(({ block, row: { into, out, count, boards } }, i) => {
      const y = yOf(i)
      const many = count > 1 ? `${count} of them` : 'one'
      return [
        ...box(
          [at(fuseAt), y],
          [into.fuse ? `fuse ${into.fuse.amps} A` : 'no fuse named', many],
          !into.fuse || flagged.has(into.id),
        ),
        ...wire([at(fuseAt) + BOX_WIDE, y], [at(driverAt), y], into),
        ...box([at(driverAt), y], ['driver', count > 1 ? many : (into.channel ?? '')], flagged.has(into.id)),
        ...(out ? wire([at(driverAt) + BOX_WIDE, y], [at(boardAt), y], out) : []),
        ...box(
          [at(boardAt), y],
          boards > 1 ? [`${boards} boards`, groups.length > 1 ? block.on : ''] : [out?.to ?? 'board'],
          out !== null && flagged.has(out.id),
        ),
      ]
    }),
    ...(all.length > shown.length
      ? [text([at(2), height - 3], `and ${all.length - shown.length} more kinds of channel: see the list`)]
      : []),
  ]
  return { width: WIDTH, height, marks, words: `${main.from} to ${all.length} kinds of channel.` }
}

/** Across, up or down, and across again. */
const fork = ([fromX, fromY]: Point, [toX, toY]: Point): Mark =>
  line(
    [
      [fromX, fromY],
      [toX - 9, fromY],
      [toX - 9, toY],
      [toX, toY],
    ],
    { stroke: INK, width: 0.9 },
  )

/** Where it is dangerous its frame is heavy and red. */
function box([x, y]: Point, words: readonly string[], isFlagged = false): Mark[] {
  const [top, low] = [y - BOX_HIGH / 2, y + BOX_HIGH / 2]
  const frame: Point[] = [
    [x, top],
    [x + BOX_WIDE, top],
    [x + BOX_WIDE, low],
    [x, low],
  ]
  return [
    shape(frame, { stroke: isFlagged ? '#b3121d' : INK, width: isFlagged ? 1.8 : 0.9, fill: '#ffffff' }),
    ...words
      .filter((w) => w !== '')
      .map((w, i, own) =>
        text([x + BOX_WIDE / 2, y + 2.5 + (i - (own.length - 1) / 2) * 9], shortened(w), { anchor: 'middle' }),
      ),
  ]
}

/** What does not fit into a block ends in “…”; the whole name stands in the list. */
function shortened(words: string): string {
  const most = Math.floor(BOX_WIDE / textWidth('m', 7)) - 1
  return words.length > most ? `${words.slice(0, most - 1)}…` : words
}

function wire([fromX, y]: Point, [toX]: Point, run: WireRun): Mark[] {
  const middle = (fromX + toX) / 2
  const style = { anchor: 'middle', size: 5 } as const
  return [
    line(
      [
        [fromX, y],
        [toX, y],
      ],
      { stroke: INK, width: 0.9 },
    ),
    text([middle, y - 3], run.gaugeWords, style),
    text([middle, y + 7], `${run.plus},`, style),
    text([middle, y + 13], run.minus, style),
  ]
}
