(function () {
  "use strict";
  var figures = Array.prototype.slice.call(document.querySelectorAll("figure[data-chart]"));
  function draw(figure) {
    var spec = JSON.parse(document.getElementById("spec_" + figure.dataset.chart).textContent);
    var live = figure.querySelector(".live");
    return window.vegaEmbed(live, spec, { renderer: "svg", actions: false, mode: "vega-lite" }).then(function () {
      figure.classList.add("is-live");
    });
  }
  /* A chart that cannot be made live keeps its still drawing. */
  var all = figures.map(function (figure) {
    return Promise.resolve(figure).then(draw).catch(function (refused) { console.error(figure.dataset.chart, refused); });
  });
  window.longmileDrawn = Promise.all(all).then(function () { return figures.length; });
})();
