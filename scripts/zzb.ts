import { gannetHead } from '../src/library/demos.ts'
import { sceneOf } from '../tests/kit/traceHere.ts'
import { chooseShape } from '../src/job/beam/pilot.ts'
import { makeKernel } from '../src/engine/forward/kernel.ts'
import { tallyLayout } from '../src/run/layout.ts'
const base = gannetHead()
const lamps: any = { searchlight: base }
if (process.argv[2] === 'all') {
  const { assemblyOf } = await import('../src/scene/assemblyRows.ts')
  lamps.same = base
  const t = base.tunnel!
  const w = (s:number)=> t.inMm + (t.outMm-t.inMm)*s
  lamps.built = { ...base, tunnel: { ...t, joints: [0.2,0.4,0.6,0.8].map(s=>({ zMm: t.zInMm+s*(t.zOutMm-t.zInMm), belowMm: w(s), aboveMm: w(s), reflectance: t.reflectance, specularShare: t.specularShare, scatterDeg: t.scatterDeg })) },
    lens: { ...base.lens!, aperture: 'rectangle', heightMm: base.lens!.diameterMm*0.8 },
    elements: [{ kind:'cover', name:'Cover', zMm: base.lens!.zMm+20, diameterMm: base.lens!.diameterMm, heightMm: base.lens!.diameterMm*0.8, aperture:'rectangle', thicknessMm: 4, material:'pmma' }] }
  lamps.tilted = { ...lamps.built, lens: {...lamps.built.lens, tiltXDeg: 1}, elements: [{...lamps.built.elements[0], zMm: base.lens!.zMm+60, tiltXDeg: 5}] }
}
for (let rep=0; rep<12; rep++) for (const [name, lamp] of Object.entries(lamps) as any) { if (process.argv[3] && name!==process.argv[3]) continue
  let scene = sceneOf(lamp)
  if (name==='same') { const { assemblyOf } = await import('../src/scene/assemblyRows.ts'); scene = {...scene, assembly: assemblyOf(lamp)} as any }
  const shape = chooseShape(scene, lamp)
  const k = makeKernel(scene, shape, { seed: 1, plainRandom: false, exitsBelow: 0 })
  const l = tallyLayout(shape)
  const sums = new Float64Array(l.windowLm), maps = new Float32Array(l.size-l.windowLm)
  k.traceSplit(0,0,30000,sums,maps)
  const c = process.cpuUsage()
  const n=250000
  k.traceSplit(1,0,n,sums,maps)
  const u = process.cpuUsage(c)
  console.log(name, (n/((u.user+u.system)/1000)).toFixed(0), 'rays/ms', sums[11]!/ (n+30000))
}
