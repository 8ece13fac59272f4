// Lens, further elements and linings as the parts column edits them.
import { renderToStaticMarkup } from 'react-dom/server'
import { describe, expect, test } from 'vitest'
import { lineStretch } from '../../../src/app/common/stretchEdits.ts'
import { newElement, newLens } from '../../../src/app/parts/defaults.ts'
import { withElement, withElements, withLens } from '../../../src/app/parts/edits.ts'
import { nextRows, withTable } from '../../../src/app/parts/Lining.tsx'
import { PieceDrawing } from '../../../src/app/parts/PiecePicture.tsx'
import { placeWords } from '../../../src/app/parts/PiecePlace.tsx'
import { withOutline } from '../../../src/app/parts/PieceSize.tsx'
import { bindNumber, elementHost } from '../../../src/app/parts/piece.ts'
import { firstWishes, reflectorOf } from '../../../src/app/parts/ReflectorCurve.tsx'
import { stepWords } from '../../../src/app/parts/Stretches.tsx'
import { lampFault } from '../../../src/app/store/tryEdit.ts'
import { elementsOf } from '../../../src/lamp/assembly.ts'
import type { Element, Lamp } from '../../../src/lamp/schema.ts'
import { benchCheck, DEMOS, gannetHead } from '../../../src/library/demos.ts'

const KINDS: Element['kind'][] = ['cover', 'diffuser', 'fresnel', 'solid', 'ideal']
const added = (lamp: Lamp, kind: Element['kind']): Lamp =>
  withElements(lamp, [...(lamp.elements ?? []), newElement(lamp, kind, 'Piece')])

describe('a further element', () => {
  test.each(Object.keys(DEMOS))('of every kind goes in front of %s, as large as what stands before it', (name) => {
    const before = DEMOS[name]!()
    const lamp = KINDS.reduce(added, before)
    expect(lampFault(lamp)).toBeNull()
    expect(elementsOf(lamp).map((e) => e.kind)).toEqual([...elementsOf(before).map((e) => e.kind), ...KINDS])
    const own = lamp.elements?.slice(before.elements?.length ?? 0)
    expect(own?.map((e) => e.name)).toEqual(['Piece', 'Piece 2', 'Piece 3', 'Piece 4', 'Piece 5'])
    if (lamp.lens) for (const e of lamp.elements ?? []) expect(e.diameterMm).toBe(lamp.lens.diameterMm)
  })
  test('behind a rectangular tunnel it is a rectangle', () => {
    const lamp = gannetHead()
    const tunnel = { ...lamp.tunnel!, sides: 4 as const, inHeightMm: 200, outHeightMm: 300 }
    const made = newElement({ ...lamp, lens: null, tunnel }, 'cover', 'Cover')
    expect(made).toMatchObject({ aperture: 'rectangle', diameterMm: 560, heightMm: 300, zMm: 1050 })
  })
  test('without the last one the lamp has no list', () => {
    expect(withElements(added(gannetHead(), 'cover'), [])).toEqual(gannetHead())
  })
  test('one that runs into another is refused in words', () => {
    const lamp = added(gannetHead(), 'cover')
    // The lens of 3 mm at 1050 mm with its grooves reaches to 1054.
    expect(lampFault(withElement(lamp, 0, { zMm: 1052 }))).toMatch(
      /^Further lens “Piece”, z: "Piece" reaches 2 mm into the lens/,
    )
    expect(lampFault(withElement(lamp, 0, { zMm: 1054 }))).toBeNull()
  })
})

describe('outline and place', () => {
  test('a rectangle begins as high as wide; back again the lamp is as before', () => {
    const host = { id: 'lens', read: (l: Lamp) => l.lens, write: withLens }
    for (const lamp of [gannetHead(), benchCheck()]) {
      const rectangle = withOutline(host, lamp, 'rectangle')
      expect(rectangle.lens).toMatchObject({ aperture: 'rectangle', heightMm: lamp.lens!.diameterMm })
      expect(lampFault(rectangle)).toBeNull()
      expect(withOutline(host, rectangle, 'round')).toEqual(lamp)
    }
  })
  test('a zero is not written, since nothing is the same', () => {
    const lamp = added(gannetHead(), 'cover')
    const host = elementHost(0)
    const tilt = bindNumber(host, 'tiltXDeg', 0)
    expect(tilt.read(lamp)).toBe(0)
    const tilted = tilt.write(lamp, 5)
    expect(tilt.read(tilted)).toBe(5)
    expect(tilt.write(tilted, 0)).toEqual(lamp)
  })
  test('a lens of another kind stays where it stood and as it was cut', () => {
    const lamp = withLens(gannetHead(), {
      aperture: 'rectangle',
      heightMm: 300,
      decentreXMm: 5,
      tiltYDeg: 3,
      centreYMm: 40,
    })
    for (const kind of ['solid', 'ideal', 'fresnel'] as const) {
      const lens = newLens(lamp, kind)
      expect(lens).toMatchObject({ aperture: 'rectangle', heightMm: 300, decentreXMm: 5, tiltYDeg: 3, centreYMm: 40 })
    }
    for (const aperture of ['square', 'rectangle'] as const) {
      const square = withLens(gannetHead(), { aperture, heightMm: aperture === 'square' ? undefined : 500, zMm: 1200 })
      for (const kind of ['solid', 'ideal'] as const)
        expect([aperture, kind, lampFault({ ...square, lens: newLens(square, kind) })]).toEqual([aperture, kind, null])
    }
  })
  test('the gist of the fold', () => {
    expect(placeWords(gannetHead().lens)).toBe('centred, upright')
    const lens = withLens(gannetHead(), { centreYMm: -120, decentreXMm: 4, tiltXDeg: 8, turnDeg: 30 }).lens
    expect(placeWords(lens)).toBe('centre 0, -120; moved 4, 0; tilt 8, 0°; turn 30°')
  })
  test('the picture: the full lens only where the piece is cut from one; a cover has no optical centre', () => {
    const picture = (lamp: Lamp, part: object) => {
      const markup = renderToStaticMarkup(<PieceDrawing piece={withLens(lamp, part).lens!} />)
      expect(markup).not.toMatch(/NaN|undefined|Infinity/)
      return markup
    }
    expect(picture(gannetHead(), {})).not.toContain('full lens')
    expect(picture(gannetHead(), { centreYMm: -400, tiltXDeg: 20 })).toContain('dashed: the full lens')
    const cover = renderToStaticMarkup(<PieceDrawing piece={newElement(gannetHead(), 'cover', 'Cover')} />)
    expect(cover).not.toContain('optical centre')
  })
})

describe('stretches and linings', () => {
  const lining = { reflectance: 0.9, specularShare: 0.9, scatterDeg: 1 }
  const stepped = (joint: object): Lamp => {
    const lamp = gannetHead()
    return {
      ...lamp,
      tunnel: { ...lamp.tunnel!, joints: [{ zMm: 500, belowMm: 300, aboveMm: 300, ...lining, ...joint }] },
    }
  }
  test('what stands at a joint, in words', () => {
    expect(stepWords(stepped({}), 1)).toBe('At z 500 mm, 300 mm, as stretch 1 ends.')
    expect(stepWords(stepped({ aboveMm: 360 }), 1)).toBe(
      'At z 500 mm a step outwards, 30 mm all round; it is lined as stretch 2, the wider one.',
    )
    expect(stepWords(stepped({ aboveMm: 280 }), 1)).toBe(
      'At z 500 mm a step inwards, 10 mm all round; it is lined as stretch 1, the wider one.',
    )
    expect(stepWords(gannetHead(), 1)).toBe('')
  })
  test('a table rises by itself and stays within its range', () => {
    let rows = nextRows([])
    for (let i = 0; i < 14; i++) rows = nextRows(rows)
    const lamp = gannetHead()
    expect(lampFault({ ...lamp, tunnel: { ...lamp.tunnel!, reflectanceByNm: rows } })).toBeNull()
    expect(rows.slice(0, 3).map((r) => r.nm)).toEqual([400, 450, 500])
  })
  test('beside a table stands its mean, of a constant the constant; the table taken away, the mean stays', () => {
    const rows = [{ nm: 500, reflectance: 0.83 }]
    expect(withTable(rows)).toEqual({ reflectanceByNm: rows, reflectance: 0.83 })
    const blue = withTable([
      { nm: 480, reflectance: 0.2 },
      { nm: 481, reflectance: 0.9 },
    ])
    // White of 5000 K has less than half of its power below 480 nm.
    expect(blue.reflectance).toBeGreaterThan(0.55)
    expect(blue.reflectance).toBeLessThan(0.9)
    expect(lineStretch(lineStretch(gannetHead().tunnel!, 0, blue), 0, withTable([]))).toEqual({
      ...gannetHead().tunnel,
      reflectance: blue.reflectance,
    })
  })
})

describe('a reflector in the tunnel’s place', () => {
  const lined = (): Lamp => {
    const lamp = gannetHead()
    return { ...lamp, lens: null, tunnel: { ...lamp.tunnel!, finish: 'Tape', inMm: 40, outMm: 120 } }
  }
  test('begins with the tunnel’s ends, its neck in the plane of the focus', () => {
    const lamp = lined()
    const wishes = firstWishes(lamp)
    expect(wishes).toMatchObject({ inMm: 40, outMm: 120, focalMm: 10, zInMm: 14 })
    const made = reflectorOf(lamp, 'paraboloid', wishes)
    if (!made.ok) throw new Error(made.why)
    // r² = 4 f (z − z_focus + f): 60² / 40 − 10 = 80 mm beyond the focus.
    expect(made.tunnel.zInMm).toBeCloseTo(wishes.focusZMm, 6)
    expect(made.tunnel.zOutMm).toBeCloseTo(wishes.focusZMm + 80, 6)
    expect(made.tunnel.joints?.every((j) => j.finish === 'Tape')).toBe(true)
    expect(lampFault({ ...lamp, tunnel: made.tunnel })).toBeNull()
  })
  test('a concentrator keeps the sides; what has no curve is refused in words', () => {
    const lamp = lined()
    const hexagon = { ...lamp, tunnel: { ...lamp.tunnel!, sides: 6 as const } }
    const made = reflectorOf(hexagon, 'concentrator', { ...firstWishes(hexagon), keptShare: 0.5 })
    // Of 30° it opens to twice its small end, 40 mm; half its length keeps less than that.
    expect(made).toMatchObject({ ok: true, tunnel: { sides: 6, inMm: 40, zInMm: 14 } })
    expect(made.ok && made.tunnel.outMm > 70 && made.tunnel.outMm < 80).toBe(true)
    expect(reflectorOf(lamp, 'paraboloid', { ...firstWishes(lamp), outMm: 30 })).toMatchObject({ ok: false })
    expect(reflectorOf({ ...lamp, tunnel: null }, 'paraboloid', firstWishes(lamp))).toMatchObject({ ok: false })
  })
})
