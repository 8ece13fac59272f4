// Written by `npm run shaders` from the tables of src; never by hand.
const LEAVES_WORKED = 1u;
const LEAVES_FLAT = 2u;
const ENDS_AT_RIM = 3u;
const ENDS_AT_LIMIT = 4u;
const STEP_LIMIT = 400u;
const LENS_STEP_LIMIT = 20000u;
const SOBOL_DIMENSIONS = 6u;
const BATCHES = 16u;
const NM_STEP = 5.0;
const NM_COUNT = 81.0;
const NM_FIRST = 380.0;
