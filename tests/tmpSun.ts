import { readFileSync } from 'node:fs'
import { inlineWorker, makePool } from '../src/engine/workers/pool.ts'
import { chooseShape } from '../src/job/beam/pilot.ts'
import { readLampText } from '../src/lamp/read.ts'
import { makeScheduler } from '../src/num/scheduler.ts'
import { compile } from '../src/scene/compile.ts'
import { lampOperatingPoint } from '../src/job/power/light.ts'
import { searchSuns } from '../src/job/beam/sunSearch.ts'
const [, , file, tilts] = process.argv
const read = readLampText(readFileSync(file!, 'utf8'))
if (!read.ok) throw new Error(read.why.join())
let lamp = read.lamp
lamp = { ...lamp, reading: { ...lamp.reading, sunWm2: 1000 } }
const pool = makePool([inlineWorker()])
const scene = compile(lamp, lampOperatingPoint(lamp))
const shape = chooseShape(scene, lamp)
const r = await searchSuns(pool, { lamp, scene, shape }, { seed: 1, tiltsDeg: tilts?.split(',').map(Number) }, makeScheduler())
for (const p of r.worst) console.log(p.zone, p.tiltDeg, p.kWm2, p.xMm, p.zMm, JSON.stringify(p.byDisc.map((d) => [d.discMm, Math.round(d.kWm2)])))
