import { expect, test } from 'vitest'
import type { Board, Lamp } from '../../src/lamp/schema.ts'
import { centreOnAxis, copyBoards, repeatAboutAxis } from '../../src/layout/arrange.ts'
import { findLayoutFaults } from '../../src/layout/clearance.ts'
import { clearShift } from '../../src/layout/clearCopies.ts'
import { fillFace } from '../../src/layout/fill.ts'
import { gannetHead } from '../../src/library/demos.ts'

const withBoards = (boards: Board[], sizeMm: number): Lamp => {
  const base = gannetHead()
  return { ...base, face: { ...base.face, shape: 'round', sizeMm, keepOuts: [] }, boards }
}
const board = (id: string, xMm: number, yMm: number): Board => ({
  ...{ id, type: 'seven', xMm, yMm, turnDeg: 0, currentA: 2 },
})
const copies = (lamp: Lamp, boards: readonly Board[]) => {
  const { dxMm, dyMm, isClear } = clearShift(lamp, boards)
  const more = copyBoards(
    boards,
    dxMm,
    dyMm,
    lamp.boards.map((b) => b.id),
  )
  return { isClear, dxMm, dyMm, faults: findLayoutFaults({ ...lamp, boards: [...lamp.boards, ...more] }) }
}

test('a copy lies beside its original, by its size and the clearance', () => {
  const lamp = withBoards([board('B1', 0, 0)], 400)
  const outline = lamp.boardTypes.find((t) => t.id === 'seven')!.outline
  const across = outline.shape === 'disc' ? outline.diameterMm : 0
  expect(copies(lamp, lamp.boards)).toEqual({
    ...{ isClear: true, dxMm: across + lamp.face.clearanceMm, dyMm: 0, faults: [] },
  })
})

test.each([1, 2, 5])('copies of %i of a face that is half full overlap nothing and keep the margin', (count) => {
  const base = gannetHead()
  const wide = withBoards([], 420)
  const { boards } = fillFace(wide, {
    ...{ boardType: 'seven', pattern: 'hexagonal', clearanceMm: wide.face.clearanceMm, marginMm: wide.face.marginMm },
    currentA: 2,
  })
  const half = boards.filter((b) => b.xMm < 0)
  const lamp = { ...base, ...wide, boards: half }
  expect(copies(lamp, half.slice(0, count))).toMatchObject({ isClear: true, faults: [] })
})

test('without room they lie past their originals, and it is said', () => {
  const lamp = withBoards([board('B1', 0, 0)], 50)
  const { isClear, dxMm } = copies(lamp, lamp.boards)
  expect(isClear).toBe(false)
  expect(dxMm).toBeGreaterThan(30)
})

test('centred: the mean of the places lies on the axis, and the boards keep their distances', () => {
  const [a, b, c] = centreOnAxis([board('B1', 10, 0), board('B2', 40, 0), board('B3', 40, 60)])
  expect([a!.xMm, b!.xMm, c!.xMm, a!.yMm, c!.yMm]).toEqual([-20, 10, 10, -20, 40])
})

test('repeated six times: five more, 60° apart, boards turned with them; one on the axis stays alone', () => {
  const more = repeatAboutAxis([board('B1', 100, 0), board('B2', 0, 0)], 6, ['B1', 'B2'])
  expect(more.map((b) => [b.id, b.turnDeg, Math.round(Math.hypot(b.xMm, b.yMm) * 1e3)])).toEqual([
    ['B3', 60, 100_000],
    ['B4', 120, 100_000],
    ['B5', 180, 100_000],
    ['B6', -120, 100_000],
    ['B7', -60, 100_000],
  ])
  expect([more[0]!.xMm, more[0]!.yMm]).toEqual([50, 86.6025])
})

test.each([5, 11, 16, 23, 29, 41, 50])('%i wanted of a hexagonal fill: their middle lies on the axis', (wanted) => {
  const lamp = withBoards([], 420)
  for (const pattern of ['hexagonal', 'square'] as const) {
    const { boards, placed } = fillFace(lamp, {
      ...{ boardType: 'seven', pattern, clearanceMm: 1, marginMm: 2, wanted, currentA: 2 },
    })
    expect(placed).toBe(wanted)
    const mean = (of: (b: Board) => number) => boards.reduce((sum, b) => sum + of(b), 0) / boards.length
    expect(
      Math.hypot(
        mean((b) => b.xMm),
        mean((b) => b.yMm),
      ),
    ).toBeLessThan(0.01)
  }
})
