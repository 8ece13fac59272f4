// The ledger as a flow (Sankey) diagram: light enters at the top as a band of full width; every loss branches off to the right where light
// meets it; the rest leaves at the bottom, split by direction. Widths are proportional to the shares.
import type { Figure } from '../../../run/figure.ts'

export interface LedgerLine {
  line: string
  name: string
  share: Figure
  lm: number
  w: number
}

/** In the order in which light meets the losses; lines not named here come last. */
const ORDER = [
  'opticLoss',
  'blocked',
  'leakedFaceGap',
  'wall',
  'leakedLensGap',
  'outsideLens',
  'lensRim',
  'lensAbsorbed',
  'lensReturnedLost',
  'face',
  'behindFace',
  'limit',
  'lost',
  'roulette',
]

const isDelivered = (line: string): boolean => line.startsWith('delivered')

/** Below this share a loss is too thin to draw and appears in the table only. */
const MIN_DRAWN = 5e-5

export function inOrder(ledger: readonly LedgerLine[]): { losses: LedgerLine[]; delivered: LedgerLine[] } {
  const place = (l: LedgerLine) => {
    const at = ORDER.indexOf(l.line)
    return at < 0 ? ORDER.length : at
  }
  return {
    losses: ledger.filter((l) => !isDelivered(l.line)).sort((a, b) => place(a) - place(b)),
    delivered: ledger.filter((l) => isDelivered(l.line)),
  }
}

export interface FlowBranch {
  line: LedgerLine
  delivered: boolean
  /** Left edge and width of its strand in the trunk. */
  x: number
  width: number
  /** Middle of its row. */
  y: number
}

export interface Flow {
  branches: FlowBranch[]
  /** Where light leaves the lamp. */
  exitY: number
  heightPx: number
}

export const FLOW = { head: 26, row: 21, pad: 6, exit: 30, foot: 8 } as const

export function layFlow(ledger: readonly LedgerLine[], trunkPx: number): Flow {
  const { losses, delivered } = inOrder(ledger)
  const drawn = (l: LedgerLine) => l.share.value >= MIN_DRAWN
  const branches: FlowBranch[] = []
  let right = trunkPx
  let y: number = FLOW.head
  const lay = (line: LedgerLine, isOut: boolean) => {
    const width = line.share.value * trunkPx
    const row = isOut ? FLOW.row : Math.max(FLOW.row, width + FLOW.pad)
    right -= width
    branches.push({ line, delivered: isOut, x: right, width, y: y + row / 2 })
    y += row
  }
  for (const line of losses.filter(drawn)) lay(line, false)
  y += FLOW.exit
  const exitY = y - FLOW.exit / 2
  // From the right, the outermost light first, so that the beam itself is the last and longest strand.
  for (const line of delivered.filter(drawn).reverse()) lay(line, true)
  return { branches, exitY, heightPx: y + FLOW.foot }
}

const BEND = 4

/** y at which a loss leaves the trunk. */
export const leavesAt = (b: FlowBranch): number => b.y - b.width / 2 - BEND

/** Path of a loss from there: a quarter turn to the right, then out to `toX`. */
export function lossPath(b: FlowBranch, toX: number): string {
  const y = leavesAt(b)
  const outer = b.width + BEND
  const turned = b.x + outer
  return `M${b.x} ${y}A${outer} ${outer} 0 0 0 ${turned} ${y + outer}H${toX}V${y + BEND}H${turned}A${BEND} ${BEND} 0 0 1 ${b.x + b.width} ${y}Z`
}
