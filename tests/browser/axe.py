"""The rules of axe, as a script for a page: its own text, with what takes most of its time done once.

Most of a look goes into colours: each is parsed anew wherever it stands, and keeps its parts in weak maps, slow to fill
and to sweep. Here what a colour says is parsed once, and its parts are properties. No rule is touched, and
tests/site/test_access.py holds what is found against axe as it comes.
"""

import importlib.resources

AS_IT_COMES = (importlib.resources.files("axe_playwright_python") / "axe.min.js").read_text(encoding="utf-8")

PROPERTIES = """
  const WeakMap = class {
    #key = Symbol("private");
    has(of) { return Object.hasOwn(of, this.#key); }
    get(of) { return of[this.#key]; }
    set(of, value) { of[this.#key] = value; return this; }
    add(of) { return this.set(of, true); }
    delete(of) { return delete of[this.#key]; }
  };
  const WeakSet = WeakMap;
"""
ONCE = """
  const { prototype } = axe.commons.color.Color;
  const parse = prototype.parseString;
  const known = new Map();
  prototype.parseString = function (text) {
    const parts = known.get(text);
    if (parts) [this.r, this.g, this.b, this.alpha] = parts;
    else known.set(text, [parse.call(this, text).r, this.g, this.b, this.alpha]);
    return this;
  };
"""
AXE = f"(() => {{{PROPERTIES}{AS_IT_COMES}\n;{ONCE}}})();"
