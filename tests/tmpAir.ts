import { readFileSync } from 'node:fs'
import { traceRecorded } from '../src/engine/pieces.ts'
import { inlineWorker, makePool } from '../src/engine/workers/pool.ts'
import { chooseShape } from '../src/job/beam/pilot.ts'
import { readLampText } from '../src/lamp/read.ts'
import { frontZMm } from '../src/lamp/front.ts'
import { clipToBall } from '../src/run/pieces.ts'
import { runToEnd } from '../src/num/scheduler.ts'
import { compile, compileSun } from '../src/scene/compile.ts'
import { lampOperatingPoint } from '../src/job/power/light.ts'
import { searchAir } from '../src/hazard/air/search.ts'
import { makeZoneOf, searchedBall } from '../src/hazard/air/zones.ts'
const [, , file, tunnel, tilts, rays] = process.argv
const read = readLampText(readFileSync(file!, 'utf8'))
if (!read.ok) throw new Error(read.why.join())
let lamp = read.lamp
if (tunnel === 'none') lamp = { ...lamp, tunnel: null }
lamp = { ...lamp, reading: { ...lamp.reading, sunWm2: 1000 } }
const pool = makePool([inlineWorker()])
const scene = compile(lamp, lampOperatingPoint(lamp))
const shape = chooseShape(scene, lamp)
console.log('front', frontZMm(lamp))
for (const tilt of tilts!.split(',').map(Number)) {
  const t0 = performance.now()
  const sun = compileSun(scene, lamp, tilt)
  const { pieces: raw } = await traceRecorded(pool, sun, shape, { seed: 1, rays: Number(rays) })
  const t1 = performance.now()
  let esc = 0, esc2 = 0
  for (let i = 0; i < raw.count; i++) if (raw.lengthMm[i] === Infinity) { if (raw.zMm[i]! < 1) esc += raw.watts[i]!; else esc2 += raw.watts[i]! }
  console.log('escape below', esc.toFixed(1), 'else', esc2.toFixed(1), 'of', sun.emittedW.toFixed(1))
  const ball = searchedBall(lamp, 1000)
  const pieces = clipToBall(raw, ball.centre, ball.radiusMm)
  const t2 = performance.now()
  const found = runToEnd(searchAir(pieces, { discMm: lamp.reading.hotDiscMm, floorKWm2: 0.5, zoneOf: makeZoneOf(lamp), ...(process.argv[6] ? { searchPieces: Number(process.argv[6]), most: 3 } : {}) }))
  const t3 = performance.now()
  console.log(tilt, 'pieces', raw.count, 'trace', (t1 - t0).toFixed(0), 'clip', (t2 - t1).toFixed(0), 'search', (t3 - t2).toFixed(0))
  for (const p of found) console.log('  ', p.zone, p.kWm2.toFixed(1), '±', (2.13*p.se).toFixed(1), [p.xMm, p.yMm, p.zMm].map((v) => v.toFixed(0)).join(' '), 'dir', [p.dx, p.dy, p.dz].map((v) => v.toFixed(2)).join(' '), 'spread', p.spreadRad.toFixed(2))
}

