import { expect, test, vi } from 'vitest'
import { shifted } from '../../../src/app/common/boardEdits.ts'
import { createTileCache } from '../../../src/app/plan/tiles.ts'
import { gannetHead } from '../../../src/library/demos.ts'

/** Node has no Path2D; what was added to it tells what a browser would draw. */
class Path {
  added: (readonly [Path, DOMMatrix2DInit])[] = []
  drawn: string[] = []
  addPath(path: Path, at: DOMMatrix2DInit) {
    this.added.push([path, at])
  }
  moveTo(x: number, y: number) {
    this.drawn.push(`M${x} ${y}`)
  }
  lineTo(x: number, y: number) {
    this.drawn.push(`L${x} ${y}`)
  }
  arc(x: number, y: number, r: number) {
    this.drawn.push(`A${x} ${y} ${r}`)
  }
  closePath() {}
}
vi.stubGlobal('Path2D', Path)

/** A wide face, so that its boards fall into many tiles. */
const lamp = { ...gannetHead(), face: { ...gannetHead().face, sizeMm: 240 } }

test('an edit of one board rebuilds only its tile', () => {
  const tiles = createTileCache()
  const before = tiles(lamp, lamp.boards)
  expect(before.length).toBeGreaterThan(4)
  expect(tiles(lamp, lamp.boards)).toEqual(before)
  const now = shifted(lamp, [lamp.boards[5]!.id], 0.5, 0)
  const after = tiles(now, now.boards)
  expect(after.filter((t) => !before.includes(t))).toHaveLength(1)
  const other = { ...lamp, opticTypes: [...lamp.opticTypes] }
  expect(tiles(other, other.boards).some((t) => after.includes(t))).toBe(false)
})

test('each board has its type’s paths, moved and turned as lampFromBoard does it', () => {
  const turned = { ...lamp, boards: [{ ...lamp.boards[3]!, turnDeg: 90, xMm: 7, yMm: -4 }] }
  const [tile] = createTileCache()(turned, turned.boards)
  const { added } = tile!.outlines as unknown as Path
  expect(added).toHaveLength(1)
  const { a, b, c, d, e, f } = added[0]![1]
  expect([a, b, c, d].map((v) => Math.round(v! * 1e9) / 1e9 + 0)).toEqual([0, 1, -1, 0])
  expect([e, f]).toEqual([7, -4])
  const discs = (tile!.optics[0]!.discs as unknown as Path).added[0]![0]
  expect(discs.drawn.filter((x) => x.startsWith('A'))).toHaveLength(7)
})
