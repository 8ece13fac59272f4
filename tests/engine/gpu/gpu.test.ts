// What of the graphics engine needs no device: the tables both languages share, what is sent, what is read back.
import { expect, test } from 'vitest'
import { openDevice } from '../../../src/engine/gpu/device.ts'
import { unsupported } from '../../../src/engine/gpu/gpuEngine.ts'
import { exitsOf, LM_STEP, RECORD_FLOATS, sumsOf, W_STEP, wide } from '../../../src/engine/gpu/readBack.ts'
import { sceneTables } from '../../../src/engine/gpu/sceneTables.ts'
import { packSetup, SETUP_WORDS } from '../../../src/engine/gpu/setup.ts'
import { libraryText } from '../../../src/engine/gpu/tablesText.ts'
import { chooseShape } from '../../../src/job/beam/pilot.ts'
import { gannetHead, iceRink } from '../../../src/library/demos.ts'
import * as E from '../../../src/optics/emitterRow.ts'
import * as KIND from '../../../src/optics/kindRow.ts'
import * as P from '../../../src/optics/params.ts'
import { NM_COUNT } from '../../../src/optics/records.ts'
import * as RING from '../../../src/optics/ringRow.ts'
import { tallyLayout } from '../../../src/run/layout.ts'
import { BATCHES, EXIT_STRIDE } from '../../../src/run/types.ts'
import { files, textOf } from '../../architecture/tree.ts'
import { sceneOf } from '../../kit/traceHere.ts'

test('shaders/lib is as the tables of src are now, and holds nothing else (else: npm run shaders)', () => {
  const written = libraryText()
  for (const [name, text] of Object.entries(written)) expect(textOf(`shaders/lib/${name}`), name).toBe(text)
  expect(files().filter((path) => path.startsWith('shaders/lib/'))).toEqual(
    Object.keys(written)
      .map((name) => `shaders/lib/${name}`)
      .sort(),
  )
})

test('the scene goes to the device byte for byte', () => {
  const scene = sceneOf(iceRink())
  const { data, quads, pairs, starts } = sceneTables(scene)
  expect(data.slice(starts.kindsAt, starts.profilesAt)).toEqual(scene.kinds)
  const count = scene.params[P.emitters]!
  const floats = new Float32Array(quads.buffer)
  const emitter = (i: number) => Array.from(scene.emitters.subarray(i * E.size, i * E.size + 7))
  for (let i = 0; i < count; i++) {
    const choice = 4 * (count + i)
    const [kind, , alias, aliasKind] = quads.subarray(choice, choice + 4)
    expect([...floats.subarray(4 * i, 4 * i + 4), kind, floats[choice + 1], alias]).toEqual(emitter(i))
    expect(aliasKind).toBe(emitter(alias!)[E.kind])
  }
  expect(floats.slice(4 * starts.kindQuadsAt, 4 * starts.emissionQuadsAt)).toEqual(scene.kinds)
  for (let i = 0; i < NM_COUNT - 1; i++) {
    const row = [scene.lensIndex[i], scene.lensIndex[i + 1], scene.lumPerWatt[i], scene.lumPerWatt[i + 1]]
    expect(Array.from(floats.subarray(4 * (starts.colourQuadsAt + i), 4 * (starts.colourQuadsAt + i) + 4))).toEqual(row)
  }
  expect(Array.from(pairs.filter((_, i) => i % 2 === 0))).toEqual(Array.from(scene.quantiles))
  expect(pairs[1]).toBe(scene.quantiles[1])
  const sides = scene.params[P.sides]!
  expect(data.length).toBe(starts.sidesAt + 2 * sides)
  expect(Array.from(data.subarray(starts.sidesAt, starts.sidesAt + 2))).toEqual([1, 0])
  const setup = packSetup(scene, chooseShape(scene, iceRink()), starts)
  expect(setup.byteLength).toBe(4 * SETUP_WORDS)
  expect(new Float32Array(setup).slice(0, P.size)).toEqual(scene.params)
})

test('for emission the device gets what it needs, whole numbers as such; a guide names the node’s own row', () => {
  const scene = sceneOf(gannetHead())
  const { data, quads, starts } = sceneTables(scene)
  const floats = new Float32Array(quads.buffer)
  const { kinds, profiles } = scene
  expect(kinds[KIND.profile]).toBe(1)
  const table = kinds[KIND.profileAt]!
  const nodes = profiles[table]!
  const row = 4 * starts.emissionQuadsAt
  expect(Array.from(floats.subarray(row, row + 4))).toEqual(
    [KIND.halfX, KIND.halfY, KIND.disc, KIND.z].map((field) => kinds[field]),
  )
  const [profile, guide, efficiency, spectrum] = quads.subarray(row + 4, row + 8)
  expect([profile, efficiency, spectrum]).toEqual([
    1,
    Math.round(kinds[KIND.efficiency]! / W_STEP),
    kinds[KIND.spectrumAt],
  ])
  for (const cell of [0, 777, 2047]) {
    const node = profiles[table + 2 + 4 * nodes + cell]!
    const at = 4 * data[guide! + cell]!
    const lists = [0, 1, 2, 3].map((list) => profiles[table + 2 + list * nodes + node])
    expect(Array.from(floats.subarray(at, at + 4))).toEqual(lists)
  }
  // No draw passes the last node.
  const last = 4 * (data[guide!]! + nodes - 1)
  expect(floats[last]).toBe(profiles[table + 2 + nodes - 1])
  expect(floats[last + 2]).toBeGreaterThan(1)
})

test('of rings the device gets sine, cosine, tip and cotangent', () => {
  const scene = sceneOf(gannetHead())
  const { quads, starts } = sceneTables(scene)
  const ring = 41
  const at = 4 * (starts.ringQuadsAt + ring)
  const row = [RING.sin, RING.cos, RING.tip, RING.cot]
  expect(Array.from(new Float32Array(quads.buffer, 4 * at, 4))).toEqual(
    row.map((slot) => scene.rings[ring * RING.size + slot]),
  )
})

test('two words make one signed number', () => {
  expect(wide(5, 0)).toBe(5)
  expect(wide(0, 3)).toBe(3 * 2 ** 32)
  expect(wide(0xffffffff, 0xffffffff)).toBe(-1)
  expect(wide(2 ** 32 - 2 ** 23, 0xffffffff)).toBe(-(2 ** 23))
})

test('lines and profiles read back are exact, each in its own steps', () => {
  const scene = sceneOf(iceRink())
  const layout = tallyLayout(chooseShape(scene, iceRink()))
  const words = new Uint32Array(2 * layout.windowLm)
  for (const at of [layout.fateW, layout.fateLm, layout.emitted, layout.emitted + 1, layout.axialLm])
    words[2 * at] = 1 << 20
  words[2 * layout.profileLm + 1] = 1
  const sums = sumsOf(words, layout)
  expect(sums.length).toBe(layout.windowLm)
  expect(sums[layout.fateW]).toBe(2 ** 20 * W_STEP)
  expect(sums[layout.fateLm]).toBe(2 ** 20 * LM_STEP)
  expect(sums[layout.emitted]).toBe(2 ** 20 * W_STEP)
  expect(sums[layout.emitted + 1]).toBe(2 ** 20 * LM_STEP)
  expect(sums[layout.axialLm]).toBe(2 ** 20 * LM_STEP)
  expect(sums[layout.profileLm]).toBe(2 ** 32 * LM_STEP)
})

test('exit records are closed up batch by batch, in the order of the rays', () => {
  const records = new Float32Array(3 * BATCHES * RECORD_FLOATS)
  const put = (ray: number, batch: number) => {
    const at = (ray * BATCHES + batch) * RECORD_FLOATS
    for (let k = 0; k < EXIT_STRIDE; k++) records[at + k] = 100 * ray + batch + k + 1
  }
  put(0, 2)
  put(2, 2)
  put(1, 3)
  expect(Array.from(exitsOf(records)[2]!)).toEqual([
    ...Array.from({ length: 9 }, (_, k) => 3 + k),
    ...Array.from({ length: 9 }, (_, k) => 203 + k),
  ])
  expect(exitsOf(records)[3]!.length).toBe(EXIT_STRIDE)
  expect(exitsOf(records)[0]!.length).toBe(0)
})

test('what is lacking is said in words', async () => {
  expect(await openDevice(undefined)).toEqual({ ok: false, why: 'there is no way to a graphics device here (WebGPU)' })
  const none = { requestAdapter: () => Promise.resolve(null) } as unknown as GPU
  expect(await openDevice(none)).toEqual({ ok: false, why: 'no graphics device offers itself for computing' })
  const scene = sceneOf(iceRink())
  const shape = chooseShape(scene, iceRink())
  const limits = { maxComputeWorkgroupStorageSize: 16384, maxStorageBufferBindingSize: 2 ** 27 } as GPUSupportedLimits
  expect(unsupported(scene, shape, limits)).toEqual([])
  expect(unsupported(scene, { ...shape, fineBins: 4000 }, limits)).toEqual(['so many profile bins'])
})
