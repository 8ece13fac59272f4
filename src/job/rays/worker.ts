/// <reference lib="webworker" />
import { serveCalls } from '../../engine/workers/calls.ts'
import { selfSide } from '../../engine/workers/selfBrowser.ts'
import { makeRayService, type RayCalls } from './service.ts'

serveCalls<RayCalls>(selfSide(), makeRayService())
