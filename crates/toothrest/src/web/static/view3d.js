// Shows a model that can be turned by finger, mouse or keys, in every <canvas data-model="URL">.
//
// A canvas stands in a <figure>. Buttons in the same figure with data-view="end", "side", "wheel"
// or "start" turn the model to a view; an element with data-model-note is told what goes wrong.
// The bytes of a model are described in wire/model.rs. Nothing is fetched but the canvas's URL.

const LETTERS = "TRM1";
const MOST_ZOOM = 40;
const LEAST_ZOOM = 0.25;
const TURN_STEP = Math.PI / 24;
const ZOOM_STEP = 1.2;
const GLIDE_MS = 350;
const DEPTH_MM = 1500; // what lies farther before or behind is cut off
const TAP_MS = 350;
const TAP_PX = 24;

// What each part looks like: red, green, blue from 0 to 1, how much it shines, how clear it is.
const LOOKS = {
  primary: { colour: null, shine: 0.15, opacity: 1 }, // the page's accent
  secondary: { colour: [0.49, 0.52, 0.545], shine: 0.25, opacity: 1 },
  flutes: { colour: [0.44, 0.465, 0.49], shine: 0.25, opacity: 1 },
  body: { colour: [0.46, 0.485, 0.51], shine: 0.25, opacity: 1 },
  shank: { colour: [0.47, 0.495, 0.52], shine: 0.3, opacity: 1 },
  end: { colour: [0.57, 0.6, 0.625], shine: 0.2, opacity: 1 },
  rest: { colour: [0.17, 0.18, 0.2], shine: 0.2, opacity: 1 },
  wheel: { colour: [0.52, 0.47, 0.4], shine: 0.05, opacity: 0.3 },
};
const ACCENT = [0.7, 0.15, 0.12];

const VERTEX_SHADER = `#version 300 es
uniform mat4 projection;
uniform mat4 model;
in vec3 position;
in vec3 normal;
out vec3 eyeNormal;
void main() {
  vec4 at = model * vec4(position, 1.0);
  eyeNormal = mat3(model) * normal;
  gl_Position = projection * at;
}`;

// Light from the sky, a soft lamp over the left shoulder, and a little shine.
const FRAGMENT_SHADER = `#version 300 es
precision highp float;
uniform vec4 colour;
uniform float shine;
in vec3 eyeNormal;
out vec4 drawn;
void main() {
  vec3 n = normalize(eyeNormal);
  if (!gl_FrontFacing) n = -n;
  vec3 lamp = normalize(vec3(-0.45, 0.65, 0.75));
  float sky = 0.5 + 0.5 * n.y;
  float light = 0.42 + 0.22 * sky + 0.5 * max(dot(n, lamp), 0.0);
  float glint = pow(max(dot(n, normalize(lamp + vec3(0.0, 0.0, 1.0))), 0.0), 24.0);
  drawn = vec4(colour.rgb * light + shine * glint, colour.a);
  drawn.rgb *= drawn.a;
}`;

// ---- vectors, turns and matrices -------------------------------------------------------------

const dot = (a, b) => a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
const cross = (a, b) =>
  [a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]];
const unit = (a) => a.map((part) => part / Math.hypot(...a));
const between = (low, value, high) => Math.min(high, Math.max(low, value));

// Turns are three rows: the eye's right, up and toward itself, in the model's own directions.
function turnOf(view) {
  const toward = unit(view.eye);
  const right = unit(cross(view.up, toward));
  return [right, cross(toward, right), toward];
}

// The turn after another about the eye's own up (yaw) and right (pitch).
function turned(rows, yaw, pitch) {
  const [c, s, d, t] = [Math.cos(yaw), Math.sin(yaw), Math.cos(pitch), Math.sin(pitch)];
  const mix = (a, b, p, q) => a.map((part, at) => p * part + q * b[at]);
  const right = mix(rows[0], rows[2], c, s);
  const aside = mix(rows[2], rows[0], c, -s);
  const up = unit(mix(rows[1], aside, d, -t));
  const toward = unit(mix(aside, rows[1], d, t));
  return [unit(cross(up, toward)), up, toward];
}

// Part of the way from one turn to another.
function blended(from, to, share) {
  const mix = (at) => from[at].map((part, place) => part + share * (to[at][place] - part));
  const toward = mix(2);
  // Views that look opposite ways have no middle: swing by the right-hand side.
  const bend = Math.hypot(...toward) < 0.2 ? from[0].map((part) => part * 0.5) : [0, 0, 0];
  const eye = unit(toward.map((part, at) => part + bend[at]));
  const up = mix(1);
  const isFlat = Math.hypot(...cross(up, eye)) < 1e-3;
  return turnOf({ eye, up: isFlat ? from[0] : up });
}

// ---- reading ---------------------------------------------------------------------------------

async function fetchModel(url) {
  const answer = await fetch(url, { credentials: "same-origin" });
  if (!answer.ok) throw new Error(`the model could not be fetched (${answer.status})`);
  const bytes = await answer.arrayBuffer();
  const letters = new TextDecoder().decode(bytes.slice(0, 4));
  if (letters !== LETTERS) throw new Error("the model is not of a kind this page can show");
  const length = new DataView(bytes).getUint32(4, true);
  const head = JSON.parse(new TextDecoder().decode(bytes.slice(8, 8 + length)));
  const data = 8 + length;
  for (const part of head.parts) {
    part.positions = new Float32Array(bytes, data + part.positions_at, 3 * part.corners);
    part.normals = new Float32Array(bytes, data + part.normals_at, 3 * part.corners);
    part.places = new Uint32Array(bytes, data + part.triangles_at, 3 * part.triangles);
  }
  return head;
}

// The page's accent, as the browser itself understands the word for it.
function accentOf(canvas) {
  const word = getComputedStyle(canvas).getPropertyValue("--accent").trim();
  if (!word || !CSS.supports("color", word)) return ACCENT;
  const dot = document.createElement("canvas").getContext("2d");
  dot.fillStyle = word;
  dot.fillRect(0, 0, 1, 1);
  return [...dot.getImageData(0, 0, 1, 1).data.slice(0, 3)].map((part) => part / 255);
}

// ---- drawing ---------------------------------------------------------------------------------

class Painter {
  constructor(gl, model, accent) {
    this.gl = gl;
    this.program = this.link();
    const uniform = (name) => gl.getUniformLocation(this.program, name);
    this.uniforms = Object.fromEntries(
      ["projection", "model", "colour", "shine"].map((name) => [name, uniform(name)]));
    this.parts = model.parts.map((part) => this.load(part, accent));
  }

  link() {
    const { gl } = this;
    const program = gl.createProgram();
    for (const [kind, text] of
      [[gl.VERTEX_SHADER, VERTEX_SHADER], [gl.FRAGMENT_SHADER, FRAGMENT_SHADER]]) {
      const shader = gl.createShader(kind);
      gl.shaderSource(shader, text);
      gl.compileShader(shader);
      gl.attachShader(program, shader);
    }
    gl.linkProgram(program);
    const isBroken = !gl.getProgramParameter(program, gl.LINK_STATUS) && !gl.isContextLost();
    if (isBroken) throw new Error(`the shaders fail: ${gl.getProgramInfoLog(program)}`);
    return program;
  }

  load(part, accent) {
    const { gl } = this;
    const array = gl.createVertexArray();
    gl.bindVertexArray(array);
    for (const [name, values] of [["position", part.positions], ["normal", part.normals]]) {
      const place = gl.getAttribLocation(this.program, name);
      gl.bindBuffer(gl.ARRAY_BUFFER, gl.createBuffer());
      gl.bufferData(gl.ARRAY_BUFFER, values, gl.STATIC_DRAW);
      gl.enableVertexAttribArray(place);
      gl.vertexAttribPointer(place, 3, gl.FLOAT, false, 0, 0);
    }
    gl.bindBuffer(gl.ELEMENT_ARRAY_BUFFER, gl.createBuffer());
    gl.bufferData(gl.ELEMENT_ARRAY_BUFFER, part.places, gl.STATIC_DRAW);
    const look = LOOKS[part.name] ?? LOOKS.body;
    return { ...look, colour: look.colour ?? accent, array, count: part.places.length };
  }

  paint(projection, model) {
    const { gl, uniforms } = this;
    gl.viewport(0, 0, gl.drawingBufferWidth, gl.drawingBufferHeight);
    gl.clearColor(0, 0, 0, 0); // the page's own paper shows through
    gl.clear(gl.COLOR_BUFFER_BIT | gl.DEPTH_BUFFER_BIT);
    gl.useProgram(this.program);
    gl.uniformMatrix4fv(uniforms.projection, false, projection);
    gl.uniformMatrix4fv(uniforms.model, false, model);
    gl.enable(gl.DEPTH_TEST);
    gl.enable(gl.CULL_FACE);
    gl.disable(gl.BLEND);
    gl.cullFace(gl.BACK);
    this.parts.filter((part) => part.opacity === 1).forEach((part) => this.draw(part));
    // What is clear comes last, its far side first, and hides nothing.
    gl.enable(gl.BLEND);
    gl.blendFunc(gl.ONE, gl.ONE_MINUS_SRC_ALPHA);
    gl.depthMask(false);
    for (const side of [gl.FRONT, gl.BACK]) {
      gl.cullFace(side);
      this.parts.filter((part) => part.opacity < 1).forEach((part) => this.draw(part));
    }
    gl.depthMask(true);
  }

  draw(part) {
    const { gl, uniforms } = this;
    gl.uniform4f(uniforms.colour, ...part.colour, part.opacity);
    gl.uniform1f(uniforms.shine, part.shine);
    gl.bindVertexArray(part.array);
    gl.drawElements(gl.TRIANGLES, part.count, gl.UNSIGNED_INT, 0);
  }
}

// ---- the figure ------------------------------------------------------------------------------

class Viewer {
  constructor(canvas, model) {
    this.canvas = canvas;
    this.model = model;
    this.pointers = new Map();
    this.views = Object.fromEntries(model.views.map((view) => [view.name, { turn: turnOf(view), zoom: view.zoom }]));
    this.start = this.views[model.views[0].name];
    [this.turn, this.zoom, this.asked] = [this.start.turn, this.start.zoom, false];
    this.gl = canvas.getContext("webgl2", { antialias: true, alpha: true });
    if (!this.gl) throw new Error("this browser cannot draw models (it has no WebGL 2)");
    this.restore();
    this.listen();
    new ResizeObserver(() => this.ask()).observe(canvas);
  }

  restore() {
    this.painter = new Painter(this.gl, this.model, accentOf(this.canvas));
    this.ask();
  }

  // Draws with the next frame, once, however often it is asked.
  ask() {
    if (this.asked) return;
    this.asked = true;
    requestAnimationFrame((now) => {
      this.asked = false;
      this.step(now);
      if (!this.gl.isContextLost()) this.paint();
    });
  }

  step(now) {
    if (!this.glide) return;
    this.glide.began ??= now;
    const share = between(0, (now - this.glide.began) / GLIDE_MS, 1);
    const eased = share * share * (3 - 2 * share);
    const { from, to } = this.glide;
    this.turn = share < 1 ? blended(from.turn, to.turn, eased) : to.turn;
    this.zoom = from.zoom + (to.zoom - from.zoom) * eased;
    if (share < 1) this.ask();
    else this.glide = null;
  }

  paint() {
    const { canvas } = this;
    const ratio = window.devicePixelRatio || 1;
    const [width, height] =
      [canvas.clientWidth, canvas.clientHeight].map((side) => Math.max(1, Math.round(side * ratio)));
    if (canvas.width !== width || canvas.height !== height) {
      [canvas.width, canvas.height] = [width, height];
    }
    // Square on, without perspective, as on a drawing: what touches is seen to touch.
    const half = (1.08 * this.model.reach_mm) / this.zoom / Math.min(1, width / height);
    const projection = [height / (half * width), 0, 0, 0, 0, 1 / half, 0, 0,
      0, 0, -1 / DEPTH_MM, 0, 0, 0, 0, 1];
    this.painter.paint(new Float32Array(projection), this.placed());
  }

  // The matrix that turns the model about its centre, column by column.
  placed() {
    const [r, u, t] = this.turn;
    const at = this.model.centre_mm;
    return new Float32Array([r[0], u[0], t[0], 0, r[1], u[1], t[1], 0, r[2], u[2], t[2], 0,
      -dot(r, at), -dot(u, at), -dot(t, at), 1]);
  }

  turnBy(yaw, pitch) {
    this.glide = null;
    this.turn = turned(this.turn, yaw, pitch);
    this.ask();
  }

  zoomBy(factor) {
    this.glide = null;
    this.zoom = between(LEAST_ZOOM, this.zoom * factor, MOST_ZOOM);
    this.ask();
  }

  show(to) {
    const isCalm = window.matchMedia("(prefers-reduced-motion: reduce)").matches;
    if (isCalm) [this.turn, this.zoom, this.glide] = [to.turn, to.zoom, null];
    else this.glide = { from: { turn: this.turn, zoom: this.zoom }, to };
    this.ask();
  }

  listen() {
    const { canvas } = this;
    const on = (name, act) => canvas.addEventListener(name, act);
    canvas.style.touchAction = "none";
    on("pointerdown", (event) => this.press(event));
    on("pointermove", (event) => this.move(event));
    for (const name of ["pointerup", "pointercancel"]) {
      on(name, (event) => this.pointers.delete(event.pointerId));
    }
    on("wheel", (event) => {
      event.preventDefault();
      this.zoomBy(Math.exp(between(-0.3, -event.deltaY * 0.0015, 0.3)));
    });
    on("keydown", (event) => this.key(event));
    on("webglcontextlost", (event) => event.preventDefault());
    on("webglcontextrestored", () => this.restore());
    for (const button of figureOf(canvas).querySelectorAll("[data-view]")) {
      const to = this.views[button.dataset.view];
      if (to) button.addEventListener("click", () => this.show(to));
      else putAway(button);
    }
  }

  press(event) {
    this.canvas.setPointerCapture(event.pointerId);
    const place = { x: event.clientX, y: event.clientY };
    const { tap } = this;
    const isSecond = tap && this.pointers.size === 0 && event.timeStamp - tap.time < TAP_MS
      && Math.hypot(place.x - tap.x, place.y - tap.y) < TAP_PX;
    this.tap = isSecond || this.pointers.size > 0 ? null : { ...place, time: event.timeStamp };
    this.pointers.set(event.pointerId, place);
    if (isSecond) this.show(this.start);
  }

  move(event) {
    const was = this.pointers.get(event.pointerId);
    if (!was) return;
    const place = { x: event.clientX, y: event.clientY };
    const other = [...this.pointers].find(([id]) => id !== event.pointerId)?.[1];
    this.pointers.set(event.pointerId, place);
    if (other) {
      const apart = (at) => Math.max(1, Math.hypot(at.x - other.x, at.y - other.y));
      this.zoomBy(apart(place) / apart(was));
      return;
    }
    if (place.x === was.x && place.y === was.y) return;
    const pace = Math.PI / Math.min(this.canvas.clientWidth, this.canvas.clientHeight);
    this.turnBy((place.x - was.x) * pace, (place.y - was.y) * pace);
  }

  key(event) {
    if (event.ctrlKey || event.metaKey || event.altKey) return;
    const acts = {
      ArrowLeft: () => this.turnBy(-TURN_STEP, 0),
      ArrowRight: () => this.turnBy(TURN_STEP, 0),
      ArrowUp: () => this.turnBy(0, -TURN_STEP),
      ArrowDown: () => this.turnBy(0, TURN_STEP),
      "+": () => this.zoomBy(ZOOM_STEP),
      "=": () => this.zoomBy(ZOOM_STEP),
      "-": () => this.zoomBy(1 / ZOOM_STEP),
      Home: () => this.show(this.start),
    };
    if (!acts[event.key]) return;
    event.preventDefault();
    acts[event.key]();
  }
}

const figureOf = (canvas) => canvas.closest("figure") ?? canvas.parentElement;

// A page's own styles may outdo the attribute, so both are set.
function putAway(element) {
  element.hidden = true;
  element.style.display = "none";
}

// Says in words what cannot be shown.
function tell(canvas, words) {
  const figure = figureOf(canvas);
  let note = figure.querySelector("[data-model-note]");
  if (!note) {
    note = document.createElement("p");
    note.dataset.modelNote = "";
    canvas.after(note);
  }
  note.setAttribute("role", "status");
  note.textContent = `The model cannot be shown: ${words}.`;
  putAway(canvas);
  figure.querySelectorAll("[data-view]").forEach(putAway);
}

async function begin(canvas) {
  try {
    const model = await fetchModel(canvas.dataset.model);
    canvas.tabIndex = 0;
    canvas.setAttribute("role", "img");
    canvas.setAttribute("aria-label", `${model.title}, to be turned about: arrow keys turn it, `
      + "plus and minus zoom, Home goes back to the first view.");
    canvas.viewer = new Viewer(canvas, model);
  } catch (error) {
    tell(canvas, error.message);
  }
}

document.querySelectorAll("canvas[data-model]").forEach(begin);
