// Supply, fuses, drivers and boards as blocks; channels that are alike share a row, with their number.
import type { WireRun } from '../../electrothermal/result.ts'
import { alikeChannels } from '../wiringBlocks.ts'
import { INK, line, type Point, shape, text, textWidth } from './figureMarks.ts'
import type { Figure, Mark } from './model.ts'

const WIDTH = 480
const ROW = 48
const BOX_HIGH = 30
const BOX_WIDE = 66
const MOST_ROWS = 8
const COLUMNS = 5

/** Null without a main wire. `flagged`: runs that a severe finding names. */
export function wiringFigure(wiring: readonly WireRun[], flagged: ReadonlySet<string>): Figure | null {
  const main = wiring.find((w) => w.part === 'main')
  if (!main) return null
  const channels = alikeChannels(wiring)
  const shown = channels.slice(0, MOST_ROWS)
  const height = Math.max(1, shown.length) * ROW + 8 + (channels.length > shown.length ? 12 : 0)
  const middle = (Math.max(1, shown.length) * ROW) / 2 + 4
  const at = (column: number) => 1 + (column * (WIDTH - 2 - BOX_WIDE)) / (COLUMNS - 1)
  const hasContactor = main.to.includes('contactor')
  const marks: Mark[] = [
    ...wire([at(0) + BOX_WIDE, middle], [at(1), middle], main),
    ...box([at(0), middle], ['supply', `${main.amps.toFixed(1)} A`]),
    ...box(
      [at(1), middle],
      [main.fuse ? `fuse ${main.fuse.amps} A` : 'no main fuse', ...(hasContactor ? ['contactor'] : [])],
      !main.fuse || flagged.has('main'),
    ),
    ...shown.flatMap(({ into, out, count, first, last }, i) => {
      const y = (i + 0.5) * ROW + 4
      const many = count > 1 ? `${count} of them` : 'one'
      return [
        line(
          [
            [at(1) + BOX_WIDE, middle],
            [at(2) - 9, middle],
            [at(2) - 9, y],
            [at(2), y],
          ],
          { stroke: INK, width: 0.9 },
        ),
        ...box(
          [at(2), y],
          [into.fuse ? `fuse ${into.fuse.amps} A` : 'no fuse named', many],
          !into.fuse || flagged.has(into.id),
        ),
        ...wire([at(2) + BOX_WIDE, y], [at(3), y], into),
        ...box([at(3), y], ['driver', count > 1 ? many : (into.channel ?? '')], flagged.has(into.id)),
        ...(out ? wire([at(3) + BOX_WIDE, y], [at(4), y], out) : []),
        ...box(
          [at(4), y],
          count > 1 ? ['board each', `${first} to ${last}`] : [out?.to ?? 'board'],
          out !== null && flagged.has(out.id),
        ),
      ]
    }),
    ...(channels.length > shown.length
      ? [text([at(2), height - 3], `and ${channels.length - shown.length} more kinds of channel: see the list`)]
      : []),
  ]
  return { width: WIDTH, height, marks, words: `${main.from} to ${channels.length} kinds of channel.` }
}

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
    ...words.map((w, i) =>
      text([x + BOX_WIDE / 2, y + 2.5 + (i - (words.length - 1) / 2) * 9], shortened(w), { anchor: 'middle' }),
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
