// The machine code that an image needs: what nothing can reach is taken out, and nothing else, so no call can find its function gone.

import { readFileSync } from "node:fs";
import binaryen from "binaryen";
import { MACHINE, need, stop } from "./python.mjs";

/** What the host in the worker calls. */
export const CALLED = ["malloc", "free", "PyUnicode_FromStringAndSize", "PyObject_Vectorcall", "PyBytes_AsString", "PyBytes_Size", "PyErr_Clear", "Py_DecRef"];
const { MutableGlobals, SignExt, NontrappingFPToInt, BulkMemory, BulkMemoryOpt, ReferenceTypes, Multivalue, ExceptionHandling } = binaryen.Features;
const FEATURES = MutableGlobals | SignExt | NontrappingFPToInt | BulkMemory | BulkMemoryOpt | ReferenceTypes | Multivalue | ExceptionHandling;
const CUSTOM = 0, DATA = 11, DATA_COUNT = 12; // numbers of sections

/** The bytes without the sections that only a fresh start reads: the image holds their outcome. */
function withoutData(bytes) {
  const kept = [bytes.subarray(0, 8)];
  for (let at = 8; at < bytes.length;) {
    const start = at, kind = bytes[at++];
    let size = 0, shift = 0, byte;
    do {
      byte = bytes[at++];
      size += (byte & 127) * 2 ** shift;
      shift += 7;
    } while (byte & 128);
    at += size;
    if (![CUSTOM, DATA, DATA_COUNT].includes(kind)) kept.push(bytes.subarray(start, at));
  }
  return Buffer.concat(kept);
}

/** {global: its value} of what the start function sets: addresses that follow from where code and data were put. */
function setAtStart(module, start, bases) {
  const statements = binaryen.getExpressionInfo(binaryen.getFunctionInfo(start).body).children.map(binaryen.getExpressionInfo);
  return Object.fromEntries(statements.filter(({ id }) => id !== binaryen.MemoryFillId).map((set) => { // what it clears is clear in the image
    const sum = set.id === binaryen.GlobalSetId ? binaryen.getExpressionInfo(set.value) : stop("its start function does more than to set addresses");
    const [base, offset] = sum.id === binaryen.BinaryId && sum.op === binaryen.AddInt32 ? [sum.left, sum.right].map(binaryen.getExpressionInfo) : [];
    if (base?.id !== binaryen.GlobalGetId || offset?.id !== binaryen.ConstId || !(base.name in bases)) stop("its start function sets an address in a way that is not known");
    return [set.name, bases[base.name] + offset.value];
  }));
}

/** Machine code for a memory that lies as in `globals`: {module: {name: value}} of the imported globals. */
export function cut(globals) {
  const module = binaryen.readBinaryWithFeatures(withoutData(readFileSync(MACHINE)), FEATURES);
  for (let index = module.getNumExports() - 1; index >= 0; index--) {
    const { name } = binaryen.getExportInfo(module.getExportByIndex(index));
    if (!CALLED.includes(name)) module.removeExport(name);
  }
  if (module.getNumExports() !== CALLED.length) stop(`one of ${CALLED.join(", ")} is not there`);
  const known = {};
  const all = Array.from({ length: module.getNumGlobals() }, (_, index) => binaryen.getGlobalInfo(module.getGlobalByIndex(index)));
  for (const { name, module: space, base } of all) {
    if (space && base !== "__stack_pointer") known[name] = need(globals[space]?.[base], `value of ${base}`);
  }
  const start = need(module.getStart() || undefined, "start function");
  const { name: startName } = binaryen.getFunctionInfo(start);
  Object.assign(known, setAtStart(module, start, known));
  module.removeFunction(startName);
  module.addFunction(startName, binaryen.none, binaryen.none, [], module.nop());
  for (const [name, value] of Object.entries(known)) {
    module.removeGlobal(name);
    module.addGlobal(name, binaryen.i32, false, module.i32.const(value));
  }
  module.runPasses(["precompute", "simplify-globals", "remove-unused-module-elements"]);
  if (!module.validate()) stop("what is left of its machine code is not valid");
  const code = module.emitBinary();
  module.dispose();
  return code;
}
