// One drawer in 3-D: assembled, taken apart, cut open at the corners. Loaded when it is to be seen.

import {
  AmbientLight, Box3, Color, DirectionalLight, DoubleSide, EdgesGeometry, LineBasicMaterial, LineSegments,
  PerspectiveCamera, Raycaster, Scene, Sphere, Vector2, Vector3, WebGLRenderer,
} from "./vendor/three/three.module.min.js";
import { OrbitControls } from "./vendor/three/controls/OrbitControls.js";
import { GLTFLoader } from "./vendor/three/loaders/GLTFLoader.js";

export async function show(place, announce) {
  const state = place.querySelector("[data-state]");
  const say = (text) => {
    state.textContent = text;
    announce(text);
  };
  let renderer;
  try {
    renderer = new WebGLRenderer({ antialias: true, alpha: true });
  } catch {
    say(place.dataset.noWebgl);
    return;
  }
  const room = place.querySelector("[data-room]");
  room.hidden = false;
  renderer.setPixelRatio(Math.min(window.devicePixelRatio, 2));
  room.replaceChildren(renderer.domElement);
  renderer.domElement.setAttribute("aria-hidden", "true");

  const scene = new Scene();
  const camera = new PerspectiveCamera(35, 1, 0.01, 20);
  const controls = new OrbitControls(camera, renderer.domElement);
  scene.add(new AmbientLight(0xffffff, 1.6));
  for (const [x, y, z, power] of [[2, 3, 2, 1.8], [-2, 1, -1, 0.7]]) {
    const light = new DirectionalLight(0xffffff, power);
    light.position.set(x, y, z);
    scene.add(light);
  }
  const ink = () => new Color(getComputedStyle(document.documentElement).color);
  let parts = [];
  let reach = 1;
  let centre = null;

  function draw() {
    renderer.render(scene, camera);
  }

  function resize() {
    const width = room.clientWidth;
    const height = Math.min(Math.round(width * 0.66), 560);
    renderer.setSize(width, height);
    camera.aspect = width / height;
    camera.updateProjectionMatrix();
    draw();
  }

  const apart = place.querySelector("[data-apart]");
  const open = place.querySelector("[data-open]");
  const names = place.querySelector("[data-names]");

  function arrange() {
    const share = Number(apart.value) / 100;
    for (const { node, home, leaves } of parts) node.position.copy(home).addScaledVector(leaves, share * reach * 0.25);
    keepInFrame();
    draw();
  }

  // Whoever looks steps back far enough to see every part, however far apart they are.
  function keepInFrame() {
    if (!parts.length) return;
    scene.updateMatrixWorld(true);
    const bounds = new Box3();
    for (const { node } of parts) bounds.expandByObject(node);
    const across = Math.atan(Math.tan((camera.fov * Math.PI) / 360) * camera.aspect);
    const half = Math.min((camera.fov * Math.PI) / 360, across);
    const whole = bounds.getBoundingSphere(new Sphere());
    const away = camera.position.clone().sub(controls.target);
    controls.target.copy(whole.center);
    camera.position.copy(whole.center).add(away.setLength(whole.radius / Math.sin(half)));
    controls.update();
  }

  function choose(chosen) {
    for (const { node, button, mesh } of parts) {
      const isChosen = node === chosen;
      button.setAttribute("aria-pressed", String(isChosen));
      mesh.material.emissive.set(isChosen ? 0x8a2a0c : 0x000000);
    }
    say(parts.find(({ node }) => node === chosen)?.node.userData.name ?? "");
    draw();
  }

  async function load() {
    const drawer = place.querySelector("select").value;
    const address = `${place.dataset.model}?drawer=${encodeURIComponent(drawer)}${open.checked ? "&open=yes" : ""}`;
    const loaded = await new GLTFLoader().loadAsync(address);
    for (const { node } of parts) scene.remove(node);
    names.replaceChildren();
    const isNew = place.dataset.shown !== drawer;
    if (isNew) {
      const bounds = new Box3().setFromObject(loaded.scene);
      centre = bounds.getCenter(new Vector3());
      reach = bounds.getSize(new Vector3()).length();
      place.dataset.shown = drawer;
    }
    parts = [...loaded.scene.children].map((node) => {
      const mesh = node.isMesh ? node : node.children.find((child) => child.isMesh);
      mesh.material = mesh.material.clone();
      Object.assign(mesh.material, { side: DoubleSide, polygonOffset: true, polygonOffsetFactor: 1, polygonOffsetUnits: 1 });
      const edges = new LineBasicMaterial({ color: ink() });
      mesh.add(new LineSegments(new EdgesGeometry(mesh.geometry, 20), edges));
      node.position.sub(centre);
      scene.add(node);
      const button = document.createElement("button");
      button.type = "button";
      button.className = "button small";
      button.textContent = node.userData.name ?? node.name;
      button.setAttribute("aria-pressed", "false");
      button.addEventListener("click", () => choose(node));
      names.append(button);
      return { node, mesh, button, home: node.position.clone(), leaves: new Vector3(...(node.userData.leaves ?? [0, 0, 0])) };
    });
    if (isNew) {
      camera.position.set(0.75, 0.6, 0.9).multiplyScalar(reach * 1.25);
      controls.target.set(0, 0, 0);
      controls.update();
    }
    arrange();
    say(place.dataset.ready);
  }

  controls.addEventListener("change", draw);
  apart.addEventListener("input", arrange);
  open.addEventListener("change", load);
  place.querySelector("select").addEventListener("change", load);
  renderer.domElement.addEventListener("click", (event) => {
    const box = renderer.domElement.getBoundingClientRect();
    const at = new Vector2(((event.clientX - box.left) / box.width) * 2 - 1, 1 - ((event.clientY - box.top) / box.height) * 2);
    const ray = new Raycaster();
    ray.setFromCamera(at, camera);
    const hit = ray.intersectObjects(parts.map(({ mesh }) => mesh), false)[0];
    choose(parts.find(({ mesh }) => mesh === hit?.object)?.node ?? null);
  });
  new ResizeObserver(resize).observe(room);
  resize();
  try {
    await load();
  } catch {
    say(place.dataset.failed);
  }
}
