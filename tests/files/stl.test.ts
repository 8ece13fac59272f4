// Binary STL by its bytes, and read by three's loader.
import { expect, test } from 'vitest'
import { writeStl } from '../../src/files/stl.ts'
import { meshOf } from '../../src/solids/kernel.ts'
import { outlines, prism, rectangle } from '../../src/solids/shape.ts'
import { solidKernel } from '../kit/solidKernel.ts'
import { stlReport } from '../kit/stlCheck.ts'

const block = async () => meshOf(await solidKernel(), prism(outlines(rectangle(30, 20)), 0, 5))

test('80 bytes of head that don’t begin with "solid", the count, 50 bytes for each triangle', async () => {
  const bytes = writeStl([await block()], 'solid Ω of a long name '.repeat(9))
  expect(bytes.length).toBe(84 + 50 * 12)
  const head = new TextDecoder('ascii').decode(bytes.subarray(0, 80))
  expect(head).toMatch(/^STL, mm: solid _ of/)
  expect(new DataView(bytes.buffer).getUint32(80, true)).toBe(12)
  // The attribute bytes of the first triangle.
  expect([bytes[84 + 48], bytes[84 + 49]]).toEqual([0, 0])
})

test('a block: twelve triangles, 3000 mm³, every edge twice, normals outwards; two blocks have both', async () => {
  const one = stlReport(writeStl([await block()], 'block'))
  expect(one).toMatchObject({ triangles: 12, openEdges: 0, wrongNormals: 0, size: [30, 20, 5], from: [-15, -10, 0] })
  expect(one.volumeMm3).toBeCloseTo(3000, 3)
  expect(stlReport(writeStl([await block(), await block()], 'two')).volumeMm3).toBeCloseTo(6000, 3)
})

test('the judge sees a hole, a triangle turned about, and a shell inside out', async () => {
  const mesh = await block()
  const open = stlReport(writeStl([{ ...mesh, index: mesh.index.slice(3) }], 'open'))
  expect(open.openEdges).toBe(3)
  const turned = mesh.index.slice()
  turned.set([mesh.index[1]!, mesh.index[0]!], 0)
  expect(stlReport(writeStl([{ ...mesh, index: turned }], 'turned')).openEdges).toBeGreaterThan(0)
  const inside = { ...mesh, index: mesh.index.slice().reverse() }
  expect(stlReport(writeStl([inside], 'inside')).volumeMm3).toBeLessThan(0)
})
