// The page's view that one can turn: the skin, the water, seams and marks, drawn by WebGL 1.
// What it shows is in the JSON beside it, in axes of the water [mm]: x aft, y to starboard, z up.
// Nothing moves by itself. Without WebGL the still picture stays.
(function () {
  "use strict";
  const root = document.getElementById("view3d");
  const [stage, canvas, over, words] = ["stage", "canvas", "marks", "labels"].map((part) => root.querySelector(`.view3d-${part}`));
  const gl = canvas.getContext("webgl", { preserveDrawingBuffer: true }), pen = over.getContext("2d");
  if (!gl) return;
  const scene = JSON.parse(document.getElementById("view3d-data").textContent);
  const { colors, size_mm: size, near_mm: near, middle_mm: home } = scene;
  const RADIAN = Math.PI / 180, KEY = 5 * RADIAN, NEAREST = 12, FARTHEST = 0.5, DEEP = 0.2 / size;

  // ---- the scene as numbers
  const dot = (a, b) => a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
  const minus = (a, b) => [a[0] - b[0], a[1] - b[1], a[2] - b[2]];
  const cross = (a, b) => [a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]];
  const unit = (a) => a.map((v) => v / (Math.hypot(...a) || 1));
  const threes = (row) => Array.from({ length: row.length / 3 }, (_, i) => [row[3 * i], row[3 * i + 1], row[3 * i + 2]]);
  const packed = (text) => threes(new Uint16Array(Uint8Array.from(atob(text), (c) => c.charCodeAt()).buffer));
  const placed = (counts) => counts.map((p) => p.map((n, k) => scene.low_mm[k] + scene.step_mm * n));

  const points = placed(packed(scene.points));
  const faces = packed(scene.faces);
  const areas = faces.map(([a, b, c]) => cross(minus(points[b], points[a]), minus(points[c], points[a])));
  const normals = areas.map(unit);
  const alike = (f, g) => dot(normals[f], normals[g]) > scene.crease;

  // A corner's normal is that of the faces about its point, none beyond a sharp edge.
  const about = points.map(() => []);
  faces.forEach((face, f) => face.forEach((i) => about[i].push(f)));
  const corners = faces.flatMap((face, f) => face.flatMap((i) => {
    const sum = about[i].filter((g) => alike(f, g)).reduce((s, g) => s.map((v, k) => v + areas[g][k]), [0, 0, 0]);
    return [...points[i], ...unit(sum)];
  }));
  const edges = [], open = new Map();
  faces.forEach((face, f) => face.forEach((a, k) => {
    const b = face[(k + 1) % 3], key = Math.min(a, b) * 65536 + Math.max(a, b);
    if (open.has(key)) edges.push({ run: [points[a], points[b]], f, g: open.get(key) });
    else open.set(key, f);
  }));

  // ---- programs
  const PLACE = "uniform mat3 turn; uniform vec3 middle, scale; vec3 place(vec3 p) { return turn * (p - middle) * scale; }";
  const skinProgram = program(`${PLACE} attribute vec3 p, n; varying float height, up;
    void main() { height = p.z; up = n.z; gl_Position = vec4(place(p), 1.0); }`,
  `uniform vec3 dry, dry_dark, wet, wet_dark; uniform float lit; varying float height, up;
    void main() { gl_FragColor = vec4(up > lit ? (height < 0.0 ? wet : dry) : (height < 0.0 ? wet_dark : dry_dark), 1.0); }`);
  // A line is a ribbon; at is its end, its side, and mm from its start.
  const lineProgram = program(`${PLACE} attribute vec3 a, b, at; uniform vec2 view; uniform float broad, pixels, nearer; varying vec2 uv;
    void main() {
      vec3 s = place(a), e = place(b), p = at.x > 0.5 ? e : s;
      vec2 way = (e.xy - s.xy) * view;
      way /= max(length(way), 0.0001);
      gl_Position = vec4(p.xy + vec2(-way.y, way.x) * at.y * broad / view, p.z - nearer, 1.0);
      uv = vec2(at.z * pixels, at.y * broad);
    }`,
  `uniform vec3 color, paper; uniform float pattern, width; varying vec2 uv;
    void main() {
      float u = uv.x / width, v = uv.y / width, swing = abs(fract(u / 3.4) - 0.5) * 3.6 - 0.9, six = mod(u, 6.4);
      bool core = false, gap = false;
      if (pattern == 1.0) gap = mod(u, 2.3) > 1.0; // dots
      if (pattern == 2.0) gap = mod(u, 6.0) > 4.0; // dashes
      if (pattern == 3.0) gap = (six > 3.2 && six < 4.4) || six > 5.2; // broken
      if (pattern == 4.0) core = abs(v) < 0.21; // double
      if (pattern == 5.0) { core = abs(v - swing) > 0.7; gap = abs(v - swing) > 1.25; } // zigzag
      if (gap) discard;
      gl_FragColor = vec4(core ? paper : color, 1.0);
    }`);
  function program(...texts) {
    const made = gl.createProgram();
    texts.forEach((text, i) => {
      const shader = gl.createShader(i ? gl.FRAGMENT_SHADER : gl.VERTEX_SHADER);
      gl.shaderSource(shader, (i ? "precision highp float;" : "") + text);
      gl.compileShader(shader);
      gl.attachShader(made, shader);
    });
    gl.linkProgram(made);
    return made;
  }
  function buffer(made, names, numbers) {
    const held = gl.createBuffer();
    gl.bindBuffer(gl.ARRAY_BUFFER, held);
    gl.bufferData(gl.ARRAY_BUFFER, new Float32Array(numbers), gl.STATIC_DRAW);
    return { made, names, held, count: numbers.length / 3 / names.length };
  }
  function ribbons(runs) {
    return buffer(lineProgram, ["a", "b", "at"], runs.flatMap((run) => {
      let far = 0;
      return run.slice(1).flatMap((b, i) => {
        const a = run[i], start = far;
        far += Math.hypot(...minus(b, a));
        return [[0, -1], [1, -1], [1, 1], [0, -1], [1, 1], [0, 1]].flatMap(
          ([end, side]) => [...a, ...b, end, side, end ? far : start]);
      });
    }));
  }
  function paint({ made, names, held, count }, values) {
    gl.useProgram(made);
    gl.bindBuffer(gl.ARRAY_BUFFER, held);
    names.forEach((name, i) => {
      const where = gl.getAttribLocation(made, name);
      gl.enableVertexAttribArray(where);
      gl.vertexAttribPointer(where, 3, gl.FLOAT, false, 12 * names.length, 12 * i);
    });
    const view = [0.5 * eye.width, 0.5 * eye.height];
    const scale = [eye.scale / view[0], eye.scale / view[1], -DEEP];
    gl.uniformMatrix3fv(gl.getUniformLocation(made, "turn"), false, [0, 1, 2].flatMap(along));
    Object.entries({ middle: eye.middle, scale, view, ...values }).forEach(([name, value]) => {
      const row = [].concat(value);
      gl[`uniform${row.length}fv`](gl.getUniformLocation(made, name), row);
    });
    gl.drawArrays(gl.TRIANGLES, 0, count);
  }
  function paintLine(line) {
    const { width, pattern, color } = line;
    paint(line, {
      width, pattern, broad: (pattern === 5 ? 2.2 : 0.5) * width, pixels: eye.scale, nearer: near * DEEP,
      color, paper: colors.paper,
    });
  }

  // ---- the eye
  const eye = { round: 0, up: 0, zoom: 1, fitted: 1, width: 1, height: 1, middle: home };
  const along = (k) => eye.axes.map((axis) => axis[k]);
  function aim() {
    const [c, s, k, t] = [Math.cos(eye.round), Math.sin(eye.round), Math.cos(eye.up), Math.sin(eye.up)];
    eye.axes = [[c, s, 0], [-s * t, c * t, k], [s * k, -c * k, t]]; // right, up, toward the viewer
    eye.scale = eye.fitted * eye.zoom;
  }
  function look(name) {
    [eye.round, eye.up] = scene.views[name].map((v) => v * RADIAN);
    Object.assign(eye, { zoom: 1, middle: home });
    fit();
  }
  function fit() {
    aim();
    const reach = (k) => points.reduce((far, p) => Math.max(far, Math.abs(dot(minus(p, home), eye.axes[k]))), 1e-6);
    eye.fitted = Math.min(0.45 * eye.width / reach(0), 0.36 * eye.height / reach(1));
    ask();
  }
  function onCanvas(p) {
    const [x, y, z] = eye.axes.map((axis) => dot(minus(p, eye.middle), axis));
    return [0.5 * eye.width + x * eye.scale, 0.5 * eye.height - y * eye.scale, z];
  }
  function turn(round, up) {
    eye.round += round;
    eye.up = Math.max(-Math.PI / 2, Math.min(Math.PI / 2, eye.up + up));
    ask();
  }
  // Nearer about a spot of the canvas, which stays where it is.
  function nearer(by, x = 0.5 * eye.width, y = 0.5 * eye.height) {
    const zoom = Math.max(FARTHEST, Math.min(NEAREST, eye.zoom * by));
    const moved = (1 / eye.zoom - 1 / zoom) / eye.fitted;
    const way = [(x - 0.5 * eye.width) * moved, (0.5 * eye.height - y) * moved, 0];
    const held = (v, k) => Math.max(-size, Math.min(size, v - home[k])) + home[k];
    Object.assign(eye, { zoom, middle: eye.middle.map((v, k) => held(v + dot(way, along(k)), k)) });
    ask();
  }

  // ---- drawing
  const skin = buffer(skinProgram, ["p", "n"], corners);
  const block = placed(threes(scene.water));
  const sides = [[0, 1, 2, 3], [0, 1, 5, 4], [1, 2, 6, 5], [2, 3, 7, 6], [3, 0, 4, 7]];
  const water = buffer(skinProgram, ["p", "n"], sides.flatMap(([a, b, c, d]) => [a, b, c, a, c, d].flatMap((i) => [...block[i], 0, 0, 0])));
  const creases = ribbons(edges.filter(({ f, g }) => !alike(f, g)).map((edge) => edge.run));
  const lines = scene.lines.map((line) => ({ ...line, ...ribbons([placed(threes(line.points))]) }));
  const ink = { pattern: 0, color: colors.ink };
  const { dry, dry_dark, wet, wet_dark, tint } = colors;
  function draw() {
    asked = false;
    aim();
    gl.viewport(0, 0, canvas.width, canvas.height);
    gl.clearColor(...colors.paper, 1);
    gl.clear(gl.COLOR_BUFFER_BIT | gl.DEPTH_BUFFER_BIT);
    // Water first: the skin under it is seen from all sides.
    gl.disable(gl.DEPTH_TEST);
    paint(water, { lit: 0, dry: tint, wet: tint, dry_dark: tint, wet_dark: tint });
    gl.enable(gl.DEPTH_TEST);
    gl.depthFunc(gl.LEQUAL);
    paint(skin, { lit: scene.lit, dry, wet, dry_dark, wet_dark });
    const facing = normals.map((n) => dot(n, eye.axes[2]) > 0);
    const outline = ribbons(edges.filter(({ f, g }) => facing[f] !== facing[g]).map((edge) => edge.run));
    paintLine({ ...ink, ...creases, width: 0.8 });
    paintLine({ ...ink, ...outline, width: 2 });
    gl.deleteBuffer(outline.held);
    lines.forEach(paintLine);
    name(faces.filter((_, f) => facing[f]).map((face) => face.map((i) => onCanvas(points[i]))));
  }

  // ---- marks and their words
  const labels = scene.marks.map((mark) => {
    const box = document.createElement("div");
    ["head", "name", "note"].filter((part) => mark[part]).forEach((part) => {
      const line = box.appendChild(document.createElement("span"));
      line.className = `view3d-${part === "head" && mark.flag ? "flag" : part}`;
      line.textContent = mark[part];
    });
    words.appendChild(box);
    return { ...mark, box, places: placed(threes(mark.places)) };
  });
  function hides([a, b, c], [x, y, z]) {
    const aside = (k, v) => (a[k] < v && b[k] < v && c[k] < v) || (a[k] > v && b[k] > v && c[k] > v);
    if (aside(0, x) || aside(1, y)) return false;
    const [s, t, p] = [minus(b, a), minus(c, a), [x - a[0], y - a[1]]];
    const area = s[0] * t[1] - s[1] * t[0];
    const [u, v] = [(p[0] * t[1] - p[1] * t[0]) / area, (s[0] * p[1] - s[1] * p[0]) / area];
    return u >= 0 && v >= 0 && u + v <= 1 && a[2] + u * s[2] + v * t[2] > z;
  }
  // Marks that are seen, and their words where there is room.
  function name(front) {
    const ratio = over.width / eye.width;
    const hidden = ([x, y, z]) => front.some((face) => hides(face, [x, y, z + 3 * near]));
    const shown = labels.filter((label) => {
      const spots = label.places.map(onCanvas).sort((p, q) => p[1] - q[1]);
      label.spot = spots.find((spot) => label.inside || !hidden(spot));
      label.box.hidden = true;
      return label.spot;
    });
    const taken = shown.map(({ spot: [x, y] }) => [x - 7, y - 7, x + 7, y + 7]);
    pen.setTransform(ratio, 0, 0, ratio, 0, 0);
    pen.clearRect(0, 0, eye.width, eye.height);
    shown.forEach((label) => {
      label.box.hidden = false;
      const best = room(label, taken, front);
      label.box.hidden = !best;
      if (!best) return;
      taken.push(best.box, ...best.way.map(([x, y]) => [x - 1, y - 1, x + 1, y + 1]));
      label.box.classList.toggle("view3d-over", best.over > 0);
      label.box.style.transform = `translate(${best.box[0]}px, ${best.box[1]}px)`;
      stroke(new Path2D(`M${label.spot[0]} ${label.spot[1]}L${best.end[0]} ${best.end[1]}`), label.color, 1);
    });
    shown.reverse().forEach((label) => scene.shapes[label.shape].forEach(([path, fill, edge, width]) => {
      pen.setTransform(ratio, 0, 0, ratio, ratio * label.spot[0], ratio * label.spot[1]);
      pen.fillStyle = fill;
      if (fill) pen.fill(new Path2D(path));
      if (edge) stroke(new Path2D(path), edge, width);
    }));
  }
  function stroke(path, color, width) {
    [pen.strokeStyle, pen.lineWidth] = [color, width];
    pen.stroke(path);
  }
  // The nearest free place beside a mark; over the skin only if it must.
  function room({ box: { offsetWidth: wide, offsetHeight: high }, spot: [x, y], flag, inside }, taken, front) {
    const down = y > 0.5 * eye.height ? 1 : -1;
    let best = null;
    for (const far of [16, 34, 56, 84, 116]) {
      for (const [a, b] of [[0.6, down], [-0.6, down], [1, 0], [-1, 0], [0.6, -down], [-0.6, -down]]) {
        const end = [x + a * far, y + b * far];
        const [left, top] = [a > 0 ? end[0] : end[0] - wide, end[1] + (0.4 * b - 0.5) * high];
        const box = [left, top, left + wide, top + high];
        const way = [0.4, 0.55, 0.7, 0.85].map((t) => [x + t * (end[0] - x), y + t * (end[1] - y)]);
        const meets = (o) => (box[0] < o[2] + 3 && o[0] < box[2] + 3 && box[1] < o[3] + 3 && o[1] < box[3] + 3) ||
          way.some((p) => p[0] > o[0] && p[0] < o[2] && p[1] > o[1] && p[1] < o[3]);
        if (left < 2 || top < 2 || box[2] > eye.width - 2 || box[3] > eye.height - 2) continue;
        if ((best && best.cost <= far) || taken.some(meets)) continue;
        const spots = [0, 1, 2, 3, 4, 5, 6].flatMap((u) => [0, 1, 2, 3].map((v) => [left + u * wide / 6, top + v * high / 3, -Infinity]));
        const over = spots.filter((p) => front.some((face) => hides(face, p))).length, cost = far + 20 * over;
        if ((over && !flag && !inside) || (best && cost >= best.cost)) continue;
        best = { cost, over, box, way, end };
      }
    }
    return best;
  }

  // ---- what a hand does
  let asked = false;
  function ask() {
    if (!asked) requestAnimationFrame(draw);
    asked = true;
  }
  const fingers = new Map();
  const apart = ([a, b]) => Math.hypot(a[0] - b[0], a[1] - b[1]);
  const on = (what, does) => canvas.addEventListener(what, does, { passive: false });
  on("pointerdown", (event) => {
    canvas.setPointerCapture(event.pointerId);
    fingers.set(event.pointerId, [event.offsetX, event.offsetY]);
  });
  on("pointermove", (event) => {
    const was = fingers.get(event.pointerId), now = [event.offsetX, event.offsetY], before = [...fingers.values()];
    if (!was) return;
    fingers.set(event.pointerId, now);
    if (fingers.size === 2) nearer(apart([...fingers.values()]) / Math.max(apart(before), 1), ...now);
    if (fingers.size === 1) turn((was[0] - now[0]) / 100, (now[1] - was[1]) / 100);
  });
  ["pointerup", "pointercancel"].forEach((what) => on(what, (event) => fingers.delete(event.pointerId)));
  // The wheel is the page's until the view has focus.
  on("wheel", (event) => {
    if (document.activeElement !== canvas && !event.ctrlKey) return;
    event.preventDefault();
    nearer(Math.exp(-0.0015 * event.deltaY), event.offsetX, event.offsetY);
  });
  on("dblclick", () => look("start"));
  on("keydown", (event) => {
    const does = {
      ArrowLeft: () => turn(KEY, 0), ArrowRight: () => turn(-KEY, 0), ArrowUp: () => turn(0, -KEY),
      ArrowDown: () => turn(0, KEY), "+": () => nearer(1.2), "-": () => nearer(1 / 1.2), Home: () => look("start"),
    }[event.key];
    if (!does || event.ctrlKey || event.metaKey || event.altKey) return;
    event.preventDefault();
    does();
  });
  root.querySelectorAll("button").forEach((button) => button.addEventListener("click", () => {
    if (button.value in scene.views) look(button.value);
    else nearer(button.value === "nearer" ? 1.4 : 1 / 1.4);
  }));
  on("webglcontextlost", () => root.classList.remove("view3d-on"));
  root.classList.add("view3d-on");
  look("start");
  new ResizeObserver(() => {
    const ratio = Math.min(window.devicePixelRatio, 3);
    [eye.width, eye.height] = [stage.clientWidth || 1, stage.clientHeight || 1];
    [canvas, over].forEach((one) => Object.assign(one, { width: eye.width * ratio, height: eye.height * ratio }));
    fit();
  }).observe(stage);
})();
