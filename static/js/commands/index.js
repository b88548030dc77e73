// Every edit of the document: pure functions (args) => (doc) => doc. A command
// that has nothing to do returns the very same document.

export { addKeepOut } from './add-keepout.js';
export { addPlane } from './add-plane.js';
export { addShadeAreas } from './add-shade-areas.js';
export { deleteCorner } from './delete-corner.js';
export { deleteItems } from './delete-items.js';
export { duplicateItems } from './duplicate-items.js';
export { faceEdge } from './face-edge.js';
export {
  HAND_MODULES_MAX,
  addModules,
  backToAutomatic,
  fillRest,
  lastModules,
  lockModules,
  moveModules,
  placeModules,
  releaseModules,
  removeModules,
} from './hand-modules.js';
export { ANCHORS, otherTurn, turnModules } from './hand-turns.js';
export { insertCorner } from './insert-corner.js';
export { moveCorner } from './move-corner.js';
export { moveCorners } from './move-corners.js';
export { moveItems } from './move-items.js';
export { resizeKeepOut } from './resize-keepout.js';
export {
  CANDIDATES_MAX,
  addCandidate,
  removeCandidate,
  reorderCandidate,
  replaceCandidate,
  setCandidate,
} from './set-candidate.js';
export { setCost } from './set-cost.js';
export { setEdge } from './set-edge.js';
export { setKeepOut } from './set-keepout.js';
export { editionOf, setASCESnow, setEdition, setENSnow, setFlushWind, setGroundSnow, setLoads, setWind } from './set-loads.js';
export { setPlane } from './set-plane.js';
export { setRules } from './set-rules.js';
export { setSite } from './set-site.js';
export { addBuilding, addTree, resizeTree, setBuilding, setHorizon, setTree } from './set-surroundings.js';
export { setTarget } from './set-target.js';
export { setLoss, setWeather, setYield, takeWeatherFile } from './set-weather.js';
export { setWiring } from './set-wiring.js';
export { turnItems } from './turn-items.js';
