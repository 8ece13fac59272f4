// What is drawn, what is refused and why, and what the sheets say.
import { describe, expect, test } from 'vitest'
import { pathAreaMm2 } from '../../src/drawing/path.ts'
import { refusalText } from '../../src/drawing/refusals.ts'
import { listSheets } from '../../src/drawing/sheets.ts'
import { tunnelPlans } from '../../src/drawing/tunnelSheets.ts'
import type { Drawing } from '../../src/drawing/types.ts'
import { drawingSvg } from '../../src/files/drawingSvg.ts'
import { paraboloidTunnel } from '../../src/layout/reflectors.ts'
import { gannetHead, iceRink, stileLamp } from '../../src/library/demos.ts'
import { binLamp } from '../../src/library/demosAssembled.ts'
import { amount } from '../kit/amount.ts'
import { assembledLamp } from '../kit/assembledLamp.ts'
import { drawn, whyNot } from '../kit/drawn.ts'
import { expectWithin, seeds } from '../kit/expect.ts'
import { lampWith } from '../kit/lampWith.ts'
import { workshopLamp } from '../kit/ownSheets.ts'
import { randomLamp } from '../kit/randomLamp.ts'

const words = (drawing: ReturnType<typeof drawn>): string =>
  drawing.items.map((i) => (i.kind === 'text' ? i.text : '')).join(' ')

describe('the list', () => {
  test('names each sheet once; what is listed as drawn is drawn', () => {
    for (const lamp of [gannetHead(), stileLamp(), iceRink(), binLamp(), workshopLamp()]) {
      const listed = listSheets(lamp)
      expect(new Set(listed.map((s) => s.name)).size).toBe(listed.length)
      for (const s of listed) {
        if (s.ok) {
          const { partBox } = drawn(lamp, s.name, { withKerf: false })
          expectWithin(s.widthMm, partBox.toX - partBox.fromX, { abs: 1e-9, because: 'the same items' })
        } else expect(whyNot(lamp, s.name)).toBe(refusalText(s, 'name'))
      }
    }
  })

  test('a lamp without tunnel and lens says so', () => {
    const refused = listSheets(stileLamp()).flatMap((s) => (s.ok ? [] : [`${s.name}: ${s.why}`]))
    expect(refused).toContain('tunnel: The lamp has no tunnel.')
    expect(refused).toContain('ring: The lamp has no lens, cover or film to be held.')
  })

  test('the tunnel is laid flat once for a tunnel and a workshop, and again for another of either', () => {
    const lamp = gannetHead()
    const plans = tunnelPlans(lamp)
    expect(tunnelPlans({ ...lamp, name: 'Another' })).toBe(plans)
    const sheetMm = { widthMm: 2000, heightMm: 1250 }
    expect(tunnelPlans({ ...lamp, workshop: { ...lamp.workshop, sheetMm } }).map((p) => p.name)).toEqual(['tunnel'])
    expect(tunnelPlans(lamp).map((p) => p.name)).toEqual(plans.map((p) => p.name))
    expect(plans.length).toBe(3)
  })

  test('an unknown name', () => {
    expect(whyNot(stileLamp(), 'tonnel')).toMatch(/^No sheet tonnel; there is face, /)
  })
})

describe('refused', () => {
  const hole = (xMm: number, yMm: number, diameterMm: number) => ({
    shape: 'hole' as const,
    xMm,
    yMm,
    diameterMm,
    why: 'Cable',
  })
  test.each([
    ['crossing the edge', [hole(98, 0, 10)], 'Hole H1 (Cable; x 98, y 0 mm) crosses the face’s edge.'],
    ['touching the edge', [hole(95, 0, 10)], 'Hole H1 (Cable; x 95, y 0 mm) crosses the face’s edge.'],
    ['beside the face', [hole(0, 140, 10)], 'Hole H1 (Cable; x 0, y 140 mm) lies beside the face.'],
    [
      'overlapping',
      [hole(90, 0, 6), hole(90, 5, 6)],
      'Hole H1 (Cable; x 90, y 0 mm) and Hole H2 (Cable; x 90, y 5 mm) overlap.',
    ],
  ])('holes %s', (_, keepOuts, why) => {
    const lamp = lampWith({ face: { keepOuts } })
    expect(whyNot(lamp, 'face')).toBe(why)
    expect(whyNot(lamp, 'face-drill')).toBe(why)
  })

  test('just clear of the edge and of each other they are drawn', () => {
    const lamp = lampWith({ face: { keepOuts: [hole(94.9, 0, 10), hole(-90, 0, 6), hole(-90, 6.1, 6)] } })
    expect(whyNot(lamp, 'face')).toBe('it was drawn')
  })

  test('a board’s hole over its edge, beside it, or over another', () => {
    const [type] = gannetHead().boardTypes
    if (!type) throw new Error('no type')
    const withHoles = (...holes: [number, number][]) =>
      lampWith({
        boardTypes: [{ ...type, holes: holes.map(([xMm, yMm]) => ({ xMm, yMm, diameterMm: 3 })) }],
        boards: [],
      })
    expect(whyNot(withHoles([17, 0]), 'board-seven')).toBe('Hole H1 (x 17, y 0 mm) crosses the board’s edge.')
    expect(whyNot(withHoles([20, 0]), 'board-seven')).toBe('Hole H1 (x 20, y 0 mm) lies beside the board.')
    expect(whyNot(withHoles([8, 0], [8, 2]), 'board-seven')).toBe('Holes H1 and H2 overlap.')
    expect(whyNot(withHoles([15.9, 0]), 'board-seven')).toBe('it was drawn')
  })

  test('a hole in a star’s notch', () => {
    const lamp = workshopLamp()
    const [type] = lamp.boardTypes
    if (!type) throw new Error('no type')
    const inNotch = { xMm: 10 * Math.cos(Math.PI / 6), yMm: 5, diameterMm: 1 }
    expect(whyNot(lampWith({ boardTypes: [{ ...type, holes: [inNotch] }], boards: [] }, lamp), 'board-seven')).toMatch(
      /beside the board/,
    )
  })

  test('a blank larger than the sheet, with the parts that hold the same', () => {
    const why = whyNot(gannetHead(), 'tunnel')
    expect(why).toMatch(/doesn’t fit on a sheet of 1000 × 600 mm \(a typical sheet: the lamp states none\)/)
    expect(why).toMatch(/The same in 4 parts: tunnel-part-1, tunnel-part-2\.$/)
    const [tunnel] = listSheets(gannetHead()).filter((s) => s.name === 'tunnel')
    if (!tunnel || tunnel.ok) throw new Error('it was drawn')
    expect(refusalText(tunnel, 'title')).toMatch(
      /The same in 4 parts: “Tunnel, length 1 of 2: one of 2 parts”, “Tunnel, length 2 of 2: one of 2 parts”\.$/,
    )
    const wide = lampWith({ workshop: { sheetMm: { widthMm: 2000, heightMm: 1250 } } })
    expect(
      listSheets(wide)
        .filter((s) => s.name.startsWith('tunnel'))
        .map((s) => s.name),
    ).toEqual(['tunnel'])
    expect(whyNot(lampWith({ workshop: { sheetMm: { widthMm: 100, heightMm: 20 } } }), 'tunnel')).toMatch(
      /Smaller parts don’t fit either/,
    )
  })

  test('parts fit on the sheet with their kerf, and no fewer would', () => {
    for (const name of ['tunnel-part-1', 'tunnel-part-2']) {
      const { partBox } = drawn(gannetHead(), name)
      expect(partBox.toX - partBox.fromX).toBeLessThanOrEqual(1000)
      expect(partBox.toY - partBox.fromY).toBeLessThanOrEqual(600)
    }
  })

  test('a lip that covers the lens, screws wider than the ring or over one another', () => {
    const ring = { widthMm: 16, lipMm: 4, heightMm: 8, screws: 8, screwMm: 4 }
    const withRing = (over: Partial<typeof ring>) =>
      lampWith({ lens: { diameterMm: 20, zMm: 1050 }, workshop: { lensRing: { ...ring, ...over } } })
    expect(whyNot(withRing({ lipMm: 10 }), 'ring-lens')).toMatch(/covers the whole of the lens/)
    expect(whyNot(withRing({ screwMm: 16 }), 'ring-lens')).toMatch(/cross the edge of a ring/)
    expect(whyNot(withRing({ screws: 48 }), 'ring-lens')).toMatch(/overlap on the ring/)
  })

  test('a ring with no room under the lens', () => {
    const lamp = lampWith({
      lens: { zMm: 20 },
      tunnel: null,
      workshop: { lensRing: { widthMm: 16, lipMm: 4, heightMm: 30, screws: 8, screwMm: 4 } },
    })
    expect(whyNot(lamp, 'stand-off-lens')).toMatch(/no room for the ring/)
  })

  test('a step on two sides alone, or wider one way and narrower the other', () => {
    const stepped = (aboveMm: number, aboveHeightMm: number) => {
      const { tunnel } = binLamp()
      const [joint] = tunnel?.joints ?? []
      if (!tunnel || !joint) throw new Error('no joint')
      const joints = [{ ...joint, aboveMm, aboveHeightMm }]
      return lampWith({ tunnel: { joints, outMm: aboveMm, outHeightMm: aboveHeightMm } }, binLamp())
    }
    expect(whyNot(stepped(470, 340), 'step-1')).toMatch(/two sides alone/)
    expect(whyNot(stepped(470, 330), 'step-1')).toMatch(/widens one way/)
  })
})

test('a tunnel of hundreds of steps is refused at once', () => {
  const finish = { reflectance: 0.9, specularShare: 0.9, scatterDeg: 1 }
  const joints = Array.from({ length: 100 }, (_, i) => ({
    zMm: 20 + 10 * i,
    belowMm: 200 + 3 * i,
    aboveMm: 203 + 3 * i,
    ...finish,
  }))
  const lamp = lampWith({ tunnel: { outMm: 560, zOutMm: 1040, joints } })
  expect(whyNot(lamp, 'tunnel')).toBe('The tunnel has 101 separate walls; at most 60 are laid flat.')
})

test.each(seeds(amount(3, 6)))(
  'lamps drawn at random: every sheet that is listed as drawn can be written, seed %i',
  (seed) => {
    for (const lamp of [randomLamp(seed), assembledLamp(seed)])
      for (const { name } of listSheets(lamp).filter((s) => s.ok))
        for (const withKerf of [true, false])
          expect(drawingSvg(drawn(lamp, name, { withKerf }))).not.toMatch(/NaN|Infinity/)
  },
)

test('a gore: its flap lies beside one edge, as wide as the workshop says, drawn in at its ends; edge on edge it has none', () => {
  const finish = { reflectance: 0.9, specularShare: 0.9, scatterDeg: 1 }
  const made = paraboloidTunnel({ focalMm: 30, focusZMm: 12, inMm: 100, outMm: 300, finish })
  if (!made.ok) throw new Error(made.why)
  const gore = (seam: { kind: 'butt' } | { kind: 'flap'; widthMm: number }) => {
    const lamp = { ...lampWith({ face: { sizeMm: 90 }, boards: [], workshop: { seam } }), tunnel: made.tunnel }
    const { items } = drawn(lamp, 'tunnel-gore', { withKerf: false })
    const paths = (layer: string) => items.flatMap((i) => (i.kind === 'path' && i.layer === layer ? [i] : []))
    const [outline] = paths('outline')
    if (!outline) throw new Error('no outline')
    return { areaMm2: Math.abs(pathAreaMm2(outline)), glue: paths('glue'), words: words({ items } as Drawing) }
  }
  const [plain, flapped] = [gore({ kind: 'butt' }), gore({ kind: 'flap', widthMm: 10 })]
  expect(plain.glue).toEqual([])
  const [glue] = flapped.glue
  if (!glue) throw new Error('no glue line')
  const heights = glue.vertices.map((v) => v.y)
  const long = Math.max(...heights) - Math.min(...heights)
  // A strip of one width along the edge, less a triangle of 10 by 5 mm at each end. The sheet may lie turned: only then is it less long upright.
  expectWithin(flapped.areaMm2 - plain.areaMm2, 10 * (long - 5), {
    rel: 0.06,
    because: 'the edge slopes at the end of a drawn-in corner',
  })
  expect(flapped.words).toMatch(/a flap of 10 mm, bent by 22\.5°\s+along the glue line, behind the next gore/)
})

describe('stand-offs of a typical ring', () => {
  test('don’t forbid the face where they would lie under boards; stated, they do', () => {
    const small = { lens: { diameterMm: 150, zMm: 1050 } }
    expect(words(drawn(lampWith(small), 'face'))).toMatch(/Stand-offs of a typical lens ring are left out/)
    const stated = lampWith({
      ...small,
      workshop: { lensRing: { widthMm: 16, lipMm: 4, heightMm: 8, screws: 8, screwMm: 4 } },
    })
    expect(whyNot(stated, 'face')).toMatch(/lies under board B\d+/)
  })
})

test('an emitter’s number stands beside its outline, not across it', () => {
  const { items } = drawn(gannetHead(), 'board-seven')
  const [type] = gannetHead().boardTypes
  const numbers = items.flatMap((i) => (i.kind === 'text' && i.layer === 'mark' && /^\d+$/.test(i.text) ? [i] : []))
  const bodies = items.flatMap((i) => (i.kind === 'circle' && i.layer === 'mark' ? [i] : []))
  expect([numbers.length, bodies.length]).toEqual([type?.sites.length, type?.sites.length])
  for (const n of numbers)
    for (const b of bodies) expect(Math.hypot(n.x - b.x, n.y - b.y)).toBeGreaterThan(b.radiusMm + 0.3)
})

test('figures of a ring grow with it, and none stands on another’s', () => {
  for (const [lamp, heightMm] of [
    [gannetHead(), 5.92],
    [workshopLamp(), 3],
  ] as const) {
    const { items } = drawn(lamp, 'ring-lens')
    const figures = items.flatMap((i) => (i.kind === 'text' && /^Ø /.test(i.text) ? [i] : []))
    expect(figures.map((f) => f.heightMm)).toEqual([heightMm, heightMm, heightMm])
    const heights = figures.map((f) => f.y).sort((a, b) => a - b)
    for (const [i, y] of heights.slice(1).entries()) expect(y - (heights[i] ?? 0)).toBeGreaterThan(2 * heightMm)
  }
})

test('a board is not cut by its sheet, a face is', () => {
  expect([drawn(gannetHead(), 'board-seven').isCut, drawn(gannetHead(), 'face').isCut]).toEqual([false, true])
})

describe('the title block', () => {
  test('lamp, sheet, scale, date, design, material, thickness, kerf', () => {
    const text = words(drawn(lampWith({ workshop: { drawnBy: 'A. Builder', kerfMm: 0.3 } }), 'tunnel-part-1'))
    for (const part of [
      'Gannet Head',
      'length 1 of 2: one of 2 parts',
      '1 : 1, mm',
      '2026-11-30',
      'a'.repeat(16),
      'Aluminium sheet',
      '0.5 mm',
      'kerf 0.3 mm: added',
      'A. Builder',
      'ISO 2768-1',
    ])
      expect(text).toContain(part)
  })

  test('names as typical what the lamp doesn’t say, and only what the sheet rests on', () => {
    const text = words(drawn(lampWith({ workshop: { kerfMm: 0.3, tunnelThicknessMm: 0.8 } }), 'tunnel-part-1'))
    expect(text).toMatch(
      /Typical values taken where the lamp says nothing: material “Aluminium sheet”; seam: flap of\s+12 mm; sheet at\s+hand/,
    )
    expect(text).not.toMatch(/K factor 0.4/)
    expect(words(drawn(lampWith({ workshop: { kerfMm: 0.3 } }), 'face'))).not.toContain('Typical values')
  })

  test('a paper template has no kerf in it', () => {
    expect(words(drawn(gannetHead(), 'face', { withKerf: false }))).toContain('no kerf added')
  })
})
