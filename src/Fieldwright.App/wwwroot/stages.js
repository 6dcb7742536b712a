// Which stage a message is for, by its kind.
import { parseHead } from './board.js';
import { Stage, parseField } from './stage.js';
import { SpaceStage, parseSpace } from './space.js';
import { BoxStage, parseBox } from './box.js';
import { DrawnStage, parseDrawing } from './drawn.js';

export const STAGES = { section: Stage, space: SpaceStage, box: BoxStage, drawing: DrawnStage };
const PARSERS = { section: parseField, space: parseSpace, slice: parseSpace, box: parseBox, drawing: parseDrawing };

export function parse(buffer) {
  const kind = parseHead(buffer).head.kind ?? 'section';
  return { kind, ...PARSERS[kind](buffer) };
}
