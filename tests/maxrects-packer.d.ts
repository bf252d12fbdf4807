// The package's main file exports nothing that Node's import finds; its other build has no types of its own.
declare module 'maxrects-packer/dist/maxrects-packer.mjs' {
  export { MaxRectsPacker, PACKING_LOGIC } from 'maxrects-packer/dist/maxrects-packer.js';
}
