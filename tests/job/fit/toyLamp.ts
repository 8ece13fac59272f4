// A lamp in closed form for fits: every board a round Gaussian spot on the wall, whose place follows board and lens, whose width follows the lens's distance
// and the optics. It stands in for the tracer, so that hundreds of fits cost no rays; what it says has no noise of its own.
import { type PredictOrder, type Prediction, type Predictor } from '../../../src/job/fit/predict.ts'
import type { LineSet, Readings } from '../../../src/lamp/readings.ts'
import type { Lamp } from '../../../src/lamp/schema.ts'
import { boardsAt, hexagonalPlaces } from '../../../src/library/demos.ts'
import { makeRandom } from '../../../src/num/rng.ts'
import { BATCHES } from '../../../src/run/types.ts'
import { lampWith } from '../../kit/lampWith.ts'
