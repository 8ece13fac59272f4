// One worker of a fit: it predicts lux, one order after another.
import { type CallReply, type CallRequest, makeClient, serveCalls } from '../../engine/workers/calls.ts'
import type { WorkerPort, WorkerSide } from '../../engine/workers/port.ts'
import { makeRestarting, type Trouble } from '../service/restarting.ts'
import { type Prediction, type PredictOrder, type Predictor, predictLux } from './predict.ts'
import { predictRun, type RunOrder, type RunPrediction } from './runningRun.ts'

type PredictCalls = {
  predict: { args: PredictOrder; event: never; result: Prediction }
  run: { args: RunOrder; event: never; result: RunPrediction }
}

export const servePredictions = (side: WorkerSide<CallRequest, CallReply>): void =>
  serveCalls<PredictCalls>(side, {
    predict: async (order) => predictLux(order),
    run: async (order) => predictRun(order),
  })

/** A prediction is made in one go, without answering anything meanwhile: only after so long it counts as hung. */
const SILENT_AFTER_MS = 600_000

/** A thread of the command line: when it ends, so does the fit. */
export function threadPredictor(port: WorkerPort<CallRequest, CallReply>, name: string): Predictor {
  const client = makeClient<PredictCalls>(port, name, SILENT_AFTER_MS)
  const { call, close } = client
  return { predict: (order) => call('predict', order), run: (order) => call('run', order), again() {}, close }
}

/** A worker of the page: when it ends, it is started again and its order is traced anew. */
export function restartingPredictor(
  open: () => WorkerPort<CallRequest, CallReply>,
  name: string,
  onTrouble: (trouble: Trouble) => void,
): Predictor {
  const client = makeRestarting<PredictCalls>(open, {
    name,
    work: 'predict',
    silentAfterMs: SILENT_AFTER_MS,
    onTrouble,
  })
  const { call, again, close } = client
  return { predict: (order) => call('predict', order), run: (order) => call('run', order), again, close }
}
