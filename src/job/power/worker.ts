/// <reference lib="webworker" />
// A browser's worker that runs heat and power.
import { serveCalls } from '../../engine/workers/calls.ts'
import { selfSide } from '../../engine/workers/selfBrowser.ts'
import { makePowerService, type PowerCalls } from './service.ts'

serveCalls<PowerCalls>(selfSide(), makePowerService())
