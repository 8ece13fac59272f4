// Segments on the sparse grid: what the module exports.
export { scaleSums, sumBalls } from './balls'
export { boxOf, clearCells, sumCells, sumHalves } from './cells'
export { placeCells, placeSegments } from './memory'
