import { gannetHead } from '../src/library/demos.ts'
import { sceneOf } from '../tests/kit/traceHere.ts'
import { chooseShape } from '../src/job/beam/pilot.ts'
import { makeKernel } from '../src/engine/forward/kernel.ts'
const base = gannetHead()
const t = base.tunnel!
const w = (s:number)=> t.inMm + (t.outMm-t.inMm)*s
const built = { ...base, tunnel: { ...t, joints: [0.2,0.4,0.6,0.8].map(s=>({ zMm: t.zInMm+s*(t.zOutMm-t.zInMm), belowMm: w(s), aboveMm: w(s), reflectance: t.reflectance, specularShare: t.specularShare, scatterDeg: t.scatterDeg })) },
    lens: { ...base.lens!, aperture: 'rectangle', heightMm: base.lens!.diameterMm*0.8 },
    elements: [{ kind:'cover', name:'Cover', zMm: base.lens!.zMm+20, diameterMm: base.lens!.diameterMm, heightMm: base.lens!.diameterMm*0.8, aperture:'rectangle', thicknessMm: 4, material:'pmma' }] } as any
const nocover = {...built, elements: []}, onlycover = {...base, elements: built.elements}, rect = {...base, lens: built.lens}
for (const lamp of [base, built, nocover, onlycover, rect]) { const scene = sceneOf(lamp); const shape = chooseShape(scene, lamp)
 const k = makeKernel(scene, shape, {seed:1,plainRandom:false,exitsBelow:0}); let n=0, l=0
 for (let i=0;i<4000;i++) k.retrace(0,i,{point(x,y,z,inl){n++; if(inl)l++},stops:()=>false,end(){}})
 let best=0; const { tallyLayout } = await import('../src/run/layout.ts'); const lo=tallyLayout(shape); const sums = new Float64Array(lo.windowLm), maps = new Float32Array(lo.size-lo.windowLm)
 for (let r=0;r<8;r++){const c=process.cpuUsage(); k.traceSplit(r,0,100000,sums,maps); const u=process.cpuUsage(c); best=Math.max(best,100000/((u.user+u.system)/1000))}
 console.log('points', n/4000, 'lens', l/4000, best.toFixed(0)) }
