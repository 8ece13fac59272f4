/// <reference lib="webworker" />
import wasm from 'manifold-3d/manifold.wasm?url'
import { serveCalls } from '../../engine/workers/calls.ts'
import { selfSide } from '../../engine/workers/selfBrowser.ts'
import { loadKernel } from '../../solids/kernel.ts'
import { makeSolidService, type SolidCalls } from './service.ts'

serveCalls<SolidCalls>(
  selfSide(),
  makeSolidService(async () => {
    const answer = await fetch(wasm)
    if (!answer.ok) throw new Error(`The solid-geometry kernel could not be fetched (${answer.status}).`)
    return loadKernel(await answer.arrayBuffer())
  }),
)
