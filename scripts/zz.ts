import { randomAssembled } from '../tests/kit/assembled.ts'
import { sceneOf, traceScene } from '../tests/kit/traceHere.ts'
import { chooseShape } from '../src/job/beam/pilot.ts'
import { compileSun } from '../src/scene/compile.ts'
import { expectValid } from '../src/run/validate.ts'
import { readLamp } from '../src/lamp/read.ts'
import { FATES } from '../src/run/types.ts'
for (let i=0;i<200;i++) { const lamp = randomAssembled(i)
 const ok = readLamp(JSON.parse(JSON.stringify(lamp)))
 if (!ok.ok) console.log(i, 'READ', ok.why.join(' '))
 const scene = sceneOf(lamp); const shape = chooseShape(scene, lamp)
 for (const s of [scene, compileSun(scene, lamp, 10, 0.5)]) {
 const t=performance.now()
 try { const run = traceScene(s, shape, {rays: 4096}); expectValid(run); const at=(f:string)=>run.tallies.reduce((a,t)=>a+t[FATES.indexOf(f as never)]!,0); if (i%20===0) console.log(i, at('delivered')/4096, (performance.now()-t).toFixed(0)) } catch (e) { console.log(i, 'FAIL', s===scene?'':'sun', String(e).slice(0,300)) } }
}
