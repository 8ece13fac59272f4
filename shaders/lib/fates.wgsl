// Written by `npm run shaders` from the tables of src; never by hand.
const FATE_opticLoss = 0u;
const FATE_blocked = 1u;
const FATE_wall = 2u;
const FATE_face = 3u;
const FATE_behindFace = 4u;
const FATE_leakedFaceGap = 5u;
const FATE_leakedLensGap = 6u;
const FATE_outsideLens = 7u;
const FATE_lensRim = 8u;
const FATE_lensAbsorbed = 9u;
const FATE_lensReturnedLost = 10u;
const FATE_delivered = 11u;
const FATE_deliveredViaRiser = 12u;
const FATE_roulette = 13u;
const FATE_limit = 14u;
const FATE_lost = 15u;
