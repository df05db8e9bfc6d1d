"use strict";
// Shows the answer that belongs to what is ticked, and its brief line. They are in the page
// already; this only finds the places that everything ticked as backing up drains through, and
// nothing that runs well. Where one rises when another drains, both back up: it waits for both.
for (const form of document.querySelectorAll(".signs")) {
  const places = JSON.parse(form.dataset.places);
  const backsUp = [...form.querySelectorAll(".backs-up")];
  const clear = [...form.querySelectorAll(".clear")];
  const answers = [...form.querySelectorAll("[data-answer], [data-briefly]")];
  const ticked = (boxes) => boxes.flatMap((box, thing) => (box.checked ? [thing] : []));
  const together = form.querySelector(".together");
  const atFault = () =>
    places.flatMap((through, place) =>
      ticked(backsUp).every((thing) => through.includes(thing)) &&
      !ticked(clear).some((thing) => through.includes(thing))
        ? [place]
        : [],
    );
  const show = () => {
    const many = ticked(backsUp).length;
    const wanted = together.checked && many < 2 ? "together" : many ? atFault().join(" ") : null;
    for (const answer of answers)
      answer.hidden = (answer.dataset.answer ?? answer.dataset.briefly) !== wanted;
  };
  const either = (boxes, others) =>
    boxes.forEach((box, thing) =>
      box.addEventListener("change", () => {
        if (box.checked) others[thing].checked = false;
        show();
      }),
    );
  either(backsUp, clear);
  either(clear, backsUp);
  together.addEventListener("change", show);
  form.hidden = false;
  show();
}
