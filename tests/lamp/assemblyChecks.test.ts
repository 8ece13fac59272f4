// What a profile of the tunnel and a row of elements must say together, word for word.
import { describe, expect, test } from 'vitest'
import { readLamp } from '../../src/lamp/read.ts'
import type { Element, Lamp, Tunnel } from '../../src/lamp/schema.ts'
import { gannetHead } from '../../src/library/demos.ts'

const demo = gannetHead()
const why = (lamp: Lamp): string[] => {
  const read = readLamp(lamp)
  return read.ok ? [] : read.why.filter((line) => !line.endsWith('not traced yet; leave it out.'))
}
const withTunnel = (over: Partial<Tunnel>) => why({ ...demo, tunnel: { ...demo.tunnel!, ...over } })
const joint = (zMm: number, over: Partial<NonNullable<Tunnel['joints']>[number]> = {}) => ({
  ...{ zMm, belowMm: 300, aboveMm: 320, reflectance: 0.8, specularShare: 0.9, scatterDeg: 1 },
  ...over,
})
const cover = (over: Partial<Extract<Element, { kind: 'cover' }>> = {}): Element => ({
  ...{ kind: 'cover', name: 'Cover', zMm: 1070, diameterMm: 570, aperture: 'round', thicknessMm: 3, material: 'pmma' },
  ...over,
})
const film = (transmittance: number, reflectance: number): Element => ({
  ...{ kind: 'diffuser', name: 'Film', zMm: 1080, diameterMm: 570, aperture: 'round', spreadDeg: 5 },
  ...{ transmittance, reflectance },
})
const fresnel = demo.lens as Extract<Lamp['lens'], { kind: 'fresnel' }>
const withLens = (over: Partial<typeof fresnel>) => why({ ...demo, lens: { ...fresnel, ...over } })
const row = (...elements: Element[]) => why({ ...demo, elements })

describe('joints', () => {
  test('rise between inlet and outlet', () => {
    expect(withTunnel({ joints: [joint(100), joint(500)] })).toEqual([])
    expect(withTunnel({ joints: [joint(14)] })).toEqual([
      'tunnel.joints[0].zMm: 14 does not fit; expected more than tunnel.zInMm (14).',
    ])
    expect(withTunnel({ joints: [joint(500), joint(400)] })).toEqual([
      'tunnel.joints[1].zMm: 400 does not fit; expected more than tunnel.joints[0].zMm (500).',
    ])
    expect(withTunnel({ joints: [joint(1040)] })).toEqual([
      'tunnel.joints[0].zMm: 1040 does not fit; expected less than tunnel.zOutMm (1040).',
    ])
    expect(withTunnel({ joints: [joint(500), joint(500.009)] })).toEqual([
      'tunnel.joints[1].zMm: 500.009 does not fit; expected more than tunnel.joints[0].zMm (500), by at least 0.01.',
    ])
  })
  test('a finish’s table rises, in each stretch', () => {
    const rows = (...nms: number[]) => nms.map((nm) => ({ nm, reflectance: 0.8 }))
    expect(
      withTunnel({ reflectanceByNm: rows(400, 500), joints: [joint(100, { reflectanceByNm: rows(550) })] }),
    ).toEqual([])
    expect(withTunnel({ reflectanceByNm: rows(500, 400) })).toEqual([
      'tunnel.reflectanceByNm[1].nm: 400 does not fit; the column must rise.',
    ])
    expect(withTunnel({ joints: [joint(100, { reflectanceByNm: rows(400, 500, 500) })] })).toEqual([
      'tunnel.joints[0].reflectanceByNm[2].nm: 500 does not fit; the column must rise.',
    ])
  })
})

describe('a rectangle', () => {
  const ends = { sides: 4 as const, inHeightMm: 100, outHeightMm: 200 }
  const needs = 'nothing stands here; a rectangle has a height at both ends and on both sides of each joint.'
  const only = 'only a rectangle has it, and needs tunnel.inHeightMm and tunnel.outHeightMm.'
  test.each<[Partial<Tunnel>, string[]]>([
    [ends, []],
    [{ ...ends, joints: [joint(100, { belowHeightMm: 150, aboveHeightMm: 150 })] }, []],
    [{ ...ends, sides: 6 }, ['tunnel.sides: 6 does not fit; a rectangle has 4.']],
    [{ sides: 4, inHeightMm: 100 }, [`tunnel.outHeightMm: ${needs}`]],
    [{ sides: 4, outHeightMm: 100 }, [`tunnel.inHeightMm: ${needs}`]],
    [{ ...ends, joints: [joint(100, { belowHeightMm: 150 })] }, [`tunnel.joints[0].aboveHeightMm: ${needs}`]],
    [{ joints: [joint(100, { belowHeightMm: 150 })] }, [`tunnel.joints[0].belowHeightMm: 150 does not fit; ${only}`]],
  ])('%j', (over, sentences) => expect(withTunnel(over)).toEqual(sentences))

  test('of a lens or cover needs a height, and nothing else has one', () => {
    expect(withLens({ aperture: 'rectangle' })).toEqual(['lens.heightMm: nothing stands here; a rectangle needs it.'])
    expect(withLens({ aperture: 'rectangle', heightMm: 350 })).toEqual([])
    expect(row(cover({ heightMm: 50 }))).toEqual(['elements[0].heightMm: 50 does not fit; only a rectangle has it.'])
  })
})

describe('a piece of a lens, counted to its farthest point from the optical axis', () => {
  const piece = { aperture: 'rectangle', diameterMm: 300, heightMm: 200, centreXMm: 250, centreYMm: -200 } as const
  // hypot(250 + 150, 200 + 100) = 500 mm.
  test('rings', () => {
    expect(withLens({ ...piece, focalMm: 1200, pitchMm: 0.05 })).toEqual([])
    expect(withLens({ aperture: 'rectangle', diameterMm: 2000, heightMm: 2000, pitchMm: 0.05, focalMm: 3000 })).toEqual(
      ['lens.pitchMm: 0.05 gives over 20000 grooves.'],
    )
    // Round, 10 mm across, 90 to 100 mm off the axis: two grooves of 45 mm end at 90.
    const far = { diameterMm: 10, centreXMm: 95 } as const
    expect(withLens({ ...far, pitchMm: 45 })).toEqual([
      'lens.pitchMm: 45 does not fit; no whole groove lies on the piece: expected at most 10.',
    ])
    expect(withLens({ ...far, pitchMm: 46 })).toEqual([])
  })
  test('focal length: a twentieth of the lens that it is cut from', () => {
    expect(withLens({ ...piece, grooves: 'source', zMm: 1060, focalMm: 49 })).toEqual([
      'lens.focalMm: 49 does not fit; expected at least 50, a twentieth of the 1000 mm of the lens that it is cut from.',
    ])
    expect(withLens({ ...piece, grooves: 'source', zMm: 1060, focalMm: 50 })).toEqual([])
  })
  test('facets that no index can cut', () => {
    // As the whole lens of 1000 mm has it.
    const whole = withLens({ material: 'silicone', diameterMm: 1000, focalMm: 80 })
    expect(whole).toHaveLength(1)
    expect(withLens({ ...piece, material: 'silicone', focalMm: 80 })).toEqual(whole)
    expect(withLens({ ...piece, material: 'silicone', focalMm: 252 })).toEqual([])
  })
  test('a solid lens’s curve', () => {
    const lens: Lamp['lens'] = {
      ...{ kind: 'solid', zMm: 1100, diameterMm: 60, radiusMm: 150, conic: 0, thicknessMm: 38 },
      ...{ curved: 'target', material: 'pmma', centreXMm: 70 },
    }
    // 150 − √(150² − 100²) = 38.197
    expect(why({ ...demo, lens })).toEqual([
      'lens.thicknessMm: 38 does not fit; a curve of 150 mm over 200 mm needs more than 38.2: nothing is left at its rim at −30, 0 mm.',
    ])
    // Cut square to a corner of the whole lens: farthest at the corner opposite its optical centre.
    const corner = { ...lens, aperture: 'square', centreXMm: 50, centreYMm: -20, thicknessMm: 20 } as Lamp['lens']
    expect(why({ ...demo, lens: corner })[0]).toMatch(/: nothing is left at its corner at −30, 30 mm\.$/)
    const centred = { ...lens, aperture: 'square', diameterMm: 200, centreXMm: 0, thicknessMm: 40 } as Lamp['lens']
    expect(why({ ...demo, lens: centred })[0]).toMatch(/: nothing is left at its corners\.$/)
    expect(why({ ...demo, lens: { ...lens, thicknessMm: 38.2 } })).toEqual([])
  })
})

describe('elements in a row', () => {
  test('apart they fit; beside each other no light meets both', () => {
    expect(row(cover(), film(0.6, 0.4))).toEqual([])
    const small = { zMm: 1060, diameterMm: 100 }
    expect(row(cover({ ...small, decentreXMm: -60 }), cover({ ...small, decentreXMm: 60, name: 'Second' }))).toEqual([
      'elements[1].zMm: the planes of "Second" and "Cover" cut through each other; tilt less, or move apart.',
    ])
  })
  test('don’t reach into the lens or each other', () => {
    // The lens ends at 1050 + 3 + two pitches.
    expect(row(cover({ zMm: 1053 }))).toEqual(['elements[0].zMm: "Cover" reaches 1 mm into the lens.'])
    expect(row(film(0.5, 0.3), cover({ zMm: 1078, name: 'Pane' }))).toEqual([
      'elements[0].zMm: "Film" reaches 1 mm into "Pane".',
    ])
    // Tilted by 10°, the cover comes 280 tan 10° = 49.37 mm nearer over the lens's edge, whose far side is at 1054.
    expect(row(cover({ zMm: 1095, tiltYDeg: 10 }))).toEqual(['elements[0].zMm: "Cover" reaches 8.37 mm into the lens.'])
    // Two panes alike tilted stay apart.
    const tilted = { zMm: 1120, tiltYDeg: 10 }
    expect(row(cover(tilted), cover({ ...tilted, zMm: 1125, name: 'Second' }))).toEqual([])
  })
  test('nor into the tunnel or the face, with the nearest corner', () => {
    const bare = { ...demo, lens: null }
    expect(why({ ...bare, elements: [cover({ zMm: 1039 })] })).toEqual([
      'elements[0].zMm: "Cover" reaches back to 1039 mm, into the tunnel that ends at 1040 mm.',
    ])
    const square = cover({ zMm: 1080, aperture: 'square', diameterMm: 400, tiltXDeg: 30 })
    // 1080 − 200 sin 30°
    expect(why({ ...bare, elements: [square] })).toEqual([
      'elements[0].zMm: "Cover" reaches back to 980 mm, into the tunnel that ends at 1040 mm.',
    ])
    // Turned by 45° the corner points there: 200 √2 sin 30°.
    expect(why({ ...bare, tunnel: null, elements: [{ ...square, zMm: 141, turnDeg: 45 }] })).toEqual([
      'elements[0].zMm: "Cover" reaches back to -0.42 mm, into the face.',
    ])
    expect(why({ ...bare, tunnel: null, elements: [{ ...square, zMm: 142, turnDeg: 45 }] })).toEqual([])
  })
  test('a tilted lens is judged by its nearest edge', () => {
    // 1050 − 280 sin 5° = 1025.6
    expect(withLens({ tiltXDeg: 5 })).toEqual([
      'lens.zMm: the lens reaches back to 1025.6 mm, into the tunnel that ends at 1040 mm.',
    ])
  })
  test('a film sends back and passes no more than it gets', () => {
    expect(row(film(0.7, 0.4))).toEqual([
      'elements[0].reflectance: 0.4 does not fit; expected at most 0.3, what elements[0].transmittance (0.7) leaves.',
    ])
  })
  test('each has its own material, judged by itself', () => {
    expect(row(film(0.5, 0.5), cover({ material: 'own' }))).toEqual([
      'elements[1].ownMaterial: nothing stands here; expected the material that elements[1].material names.',
    ])
    const { name: _, ...own } = { ...fresnel, name: 'Second', zMm: 1100, material: 'own' as const }
    expect(row({ ...own, name: 'Second' })).toEqual([
      'elements[0].ownMaterial: nothing stands here; expected the material that elements[0].material names.',
    ])
    expect(row({ ...fresnel, name: 'Short', zMm: 1100, focalMm: 20 })[0]).toBe(
      'elements[0].focalMm: 20 does not fit; expected at least 28, a twentieth of the diameter.',
    )
  })
})
