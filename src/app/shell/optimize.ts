// Connects the runner of searches to this page. What searches need is loaded with the first of them.
import { redraw } from '../frame.ts'
import { createSearchMemory } from '../optimize/memory.ts'
import { createOptimizeRunner } from '../optimize/runner.ts'
import { browserKeyValue } from '../store/keyValue.ts'
import { optimize } from '../store/optimize.ts'
import { design, result } from '../store/stores.ts'
import { tracing } from './tracing.ts'

export const optimizeRunner = createOptimizeRunner({
  design,
  result,
  optimize,
  trace: tracing,
  redraw: (draw) => redraw('optimize', draw),
  memory: createSearchMemory(browserKeyValue('lampwright-search')),
  open: async (onTrouble) => (await import('../../job/choose/client.ts')).openOptimizeClient(onTrouble),
})
