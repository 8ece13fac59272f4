// The theme's colours for the canvases, read from the page's styles, so that the high-contrast theme applies there too.
import { textScale } from '../common/textScale.ts'
import { GROUP_TONES, type GroupLines } from './model/groups.ts'
import type { MarkTone } from './model/marks.ts'

const TOKENS = ['ground', 'sheet', 'raised', 'rule', 'rule-strong', 'ink', 'ink-quiet', 'ink-faint', 'light'] as const
const MORE = ['light-soft', 'steel', 'severe', 'warning'] as const
type Token = (typeof TOKENS)[number] | (typeof MORE)[number]

export type PlanPalette = Record<Token, string> & { font: string; tone: Record<MarkTone, string>; group: string[] }

export function readPalette(from: Element): PlanPalette {
  const style = getComputedStyle(from)
  const of = (token: string) => style.getPropertyValue(`--${token}`).trim()
  const tokens = Object.fromEntries([...TOKENS, ...MORE].map((t) => [t, of(t)])) as Record<Token, string>
  return {
    ...tokens,
    font: `${11 * textScale()}px ${of('font')}`,
    group: Array.from({ length: GROUP_TONES }, (_, i) => of(`plan-group-${i + 1}`)),
    tone: {
      steel: of('steel'),
      lichen: of('mark-lichen'),
      heather: of('mark-heather'),
      chalk: of('ink'),
      sand: of('mark-sand'),
    },
  }
}

const hatches = new Map<string, CanvasPattern>()

/** A tile of so many px, painted once, as a repeating pattern. */
function tilePattern(
  ctx: CanvasRenderingContext2D,
  key: string,
  side: number,
  paint: (t: CanvasRenderingContext2D) => void,
): CanvasPattern {
  const made = hatches.get(key)
  if (made) return made
  const tile = document.createElement('canvas')
  tile.width = side
  tile.height = side
  const t = tile.getContext('2d')!
  paint(t)
  const pattern = ctx.createPattern(tile, 'repeat')!
  hatches.set(key, pattern)
  return pattern
}

/** Diagonal hatching in canvas px: hazards are marked by hatching as well as by colour. */
export function hatch(ctx: CanvasRenderingContext2D, colour: string, way: 1 | -1, ratio: number): CanvasPattern {
  const side = Math.round(8 * ratio)
  return tilePattern(ctx, `${colour} ${way} ${ratio}`, side, (t) => {
    t.strokeStyle = colour
    t.lineWidth = 1.6 * ratio
    for (const shift of [-side, 0, side]) {
      t.beginPath()
      t.moveTo(shift - 2, way > 0 ? side + 2 : -2)
      t.lineTo(shift + side + 2, way > 0 ? -2 : side + 2)
      t.stroke()
    }
  })
}

/** Strokes of a pattern's tile, as shares of its side. */
const STROKES: Record<GroupLines, readonly (readonly [number, number, number, number])[]> = {
  plain: [],
  rising: [
    [-0.1, 1.1, 1.1, -0.1],
    [-0.6, 0.6, 0.6, -0.6],
    [0.4, 1.6, 1.6, 0.4],
  ],
  falling: [
    [-0.1, -0.1, 1.1, 1.1],
    [-0.6, 0.4, 0.6, 1.6],
    [0.4, -0.6, 1.6, 0.6],
  ],
  upright: [[0.5, 0, 0.5, 1]],
  level: [[0, 0.5, 1, 0.5]],
  crossed: [
    [0.5, 0, 0.5, 1],
    [0, 0.5, 1, 0.5],
  ],
}

/** Lines of a group, in canvas px. */
export function groupPattern(
  ctx: CanvasRenderingContext2D,
  colour: string,
  lines: GroupLines,
  ratio: number,
): CanvasPattern {
  const side = Math.round(7 * ratio)
  return tilePattern(ctx, `${lines} ${colour} ${ratio}`, side, (t) => {
    t.strokeStyle = colour
    t.lineWidth = 1.2 * ratio
    t.beginPath()
    for (const [x0, y0, x1, y1] of STROKES[lines]) {
      t.moveTo(x0 * side, y0 * side)
      t.lineTo(x1 * side, y1 * side)
    }
    t.stroke()
  })
}
