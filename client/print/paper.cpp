#include "client/print/paper.hpp"

#include <cairo-pdf.h>
#include <cairo-svg.h>
#include <fmt/format.h>
#include <pango/pangocairo.h>
#include <qrencode.h>

#include <algorithm>
#include <cmath>
#include <fstream>
#include <numbers>

#include "sensors/quantity/problem.hpp"

namespace takehold::client {
namespace {

constexpr double kPoint = 72 / 25.4;     // points a millimetre: the unit of PDF and SVG surfaces
constexpr double kPngDots = 200 / 25.4;  // 200 dots an inch: what a screen zooms into well
constexpr double kShrink = 0.93;         // sizes tried go down by this
constexpr double kOneLine = 0.65;        // of its size: rather broken than smaller than this
constexpr const char* kFont = "DejaVu Sans";  // others come in where it lacks letters
constexpr int kQuiet = 4;  // modules of white around a code, as the standard asks

struct SurfaceFree {
  void operator()(cairo_surface_t* s) const { cairo_surface_destroy(s); }
};
struct ContextFree {
  void operator()(cairo_t* c) const { cairo_destroy(c); }
};
struct LayoutFree {
  void operator()(PangoLayout* l) const { g_object_unref(l); }
};
struct FontFree {
  void operator()(PangoFontDescription* f) const { pango_font_description_free(f); }
};
struct AttributesFree {
  void operator()(PangoAttrList* a) const { pango_attr_list_unref(a); }
};
struct CodeFree {
  void operator()(QRcode* c) const { QRcode_free(c); }
};
using Surface = std::unique_ptr<cairo_surface_t, SurfaceFree>;
using Drawing = std::unique_ptr<cairo_t, ContextFree>;
using Layout = std::unique_ptr<PangoLayout, LayoutFree>;

[[noreturn]] void cannot_write(const std::filesystem::path& file, std::string why) {
  throw sensors::Refused(
      {"cannot-write", "cannot write this file", std::move(why), file.string(), ""});
}

cairo_status_t keep_bytes(void* kept, const unsigned char* bytes, unsigned length) {
  static_cast<std::string*>(kept)->append(bytes, bytes + length);
  return CAIRO_STATUS_SUCCESS;
}

}  // namespace

std::optional<PaperKind> paper_kind(const std::filesystem::path& file) {
  const auto ending = file.extension();
  if (ending == ".pdf") return PaperKind::pdf;
  if (ending == ".svg") return PaperKind::svg;
  if (ending == ".png") return PaperKind::png;
  return std::nullopt;
}

struct Paper::Inside {
  std::filesystem::path file;  // empty: kept in memory only
  PaperKind kind = PaperKind::svg;
  Size page;
  std::string bytes;
  Surface surface;
  Drawing drawing;
  int pages = 1;
  int without_font = 0;

  double scale() const { return kind == PaperKind::png ? kPngDots : kPoint; }

  // Drawn into memory: a file that stands there is touched only once all of the new one is known.
  void begin(const std::string& made_at) {
    const double wide = page.width * scale(), high = page.height * scale();
    if (kind == PaperKind::pdf) {
      surface.reset(cairo_pdf_surface_create_for_stream(&keep_bytes, &bytes, wide, high));
      cairo_pdf_surface_set_metadata(surface.get(), CAIRO_PDF_METADATA_CREATE_DATE,
                                     made_at.c_str());
      cairo_pdf_surface_set_metadata(surface.get(), CAIRO_PDF_METADATA_CREATOR, "Takehold");
    } else if (kind == PaperKind::svg) {
      surface.reset(cairo_svg_surface_create_for_stream(&keep_bytes, &bytes, wide, high));
    } else {
      surface.reset(cairo_image_surface_create(CAIRO_FORMAT_RGB24,
                                               static_cast<int>(std::ceil(wide)),
                                               static_cast<int>(std::ceil(high))));
    }
    check(cairo_surface_status(surface.get()));
    drawing.reset(cairo_create(surface.get()));
    cairo_scale(drawing.get(), scale(), scale());
    if (kind == PaperKind::png) {
      cairo_set_source_rgb(drawing.get(), 1, 1, 1);
      cairo_paint(drawing.get());
    }
  }

  void check(cairo_status_t status) const {
    if (status != CAIRO_STATUS_SUCCESS) cannot_write(file, cairo_status_to_string(status));
  }

  void write_file() const {
    const auto written = std::filesystem::path(file).concat(".part");
    std::ofstream out(written, std::ios::binary);
    out.write(bytes.data(), static_cast<std::streamsize>(bytes.size()));
    out.close();
    std::error_code trouble;
    if (out) std::filesystem::rename(written, file, trouble);
    if (out && !trouble) return;
    std::error_code ignored;
    std::filesystem::remove(written, ignored);
    cannot_write(file, trouble ? trouble.message() : "the folder is not there, or is full");
  }

  void ink(Shade shade) { cairo_set_source_rgb(drawing.get(), shade.red, shade.green, shade.blue); }

  // Metrics are not rounded to the surface's dots, so that a page is laid out alike on all kinds.
  Layout layout(std::string_view text, const TextStyle& style, double size_pt) const {
    Layout made(pango_cairo_create_layout(drawing.get()));
    PangoContext* context = pango_layout_get_context(made.get());
    pango_cairo_context_set_resolution(context, 72);
    pango_context_set_round_glyph_positions(context, FALSE);
    cairo_font_options_t* options = cairo_font_options_create();
    cairo_font_options_set_hint_metrics(options, CAIRO_HINT_METRICS_OFF);
    pango_cairo_context_set_font_options(context, options);
    cairo_font_options_destroy(options);
    const std::unique_ptr<PangoFontDescription, FontFree> font(pango_font_description_new());
    pango_font_description_set_family(font.get(), kFont);
    pango_font_description_set_weight(font.get(),
                                      style.bold ? PANGO_WEIGHT_BOLD : PANGO_WEIGHT_NORMAL);
    pango_font_description_set_absolute_size(font.get(), size_pt / kPoint * PANGO_SCALE);
    pango_layout_set_font_description(made.get(), font.get());
    const auto align = style.across == Across::left     ? PANGO_ALIGN_LEFT
                       : style.across == Across::centre ? PANGO_ALIGN_CENTER
                                                        : PANGO_ALIGN_RIGHT;
    pango_layout_set_alignment(made.get(), align);
    const std::unique_ptr<PangoAttrList, AttributesFree> attributes(pango_attr_list_new());
    pango_attr_list_insert(attributes.get(), pango_attr_insert_hyphens_new(FALSE));
    pango_layout_set_attributes(made.get(), attributes.get());
    pango_layout_set_text(made.get(), text.data(), static_cast<int>(text.size()));
    return made;
  }
};

namespace {

Size size_of(PangoLayout* layout) {
  PangoRectangle logical;
  pango_layout_get_extents(layout, nullptr, &logical);
  return {static_cast<double>(logical.width) / PANGO_SCALE,
          static_cast<double>(logical.height) / PANGO_SCALE};
}

constexpr double kHair = 0.01;  // mm: rounding of extents to 1/1024

// Broken between words only, where it fits into the box; a word wider than the box does not fit.
bool fits(PangoLayout* layout, const Box& box) {
  pango_layout_set_width(layout, static_cast<int>(box.width * PANGO_SCALE));
  pango_layout_set_wrap(layout, PANGO_WRAP_WORD);
  const Size size = size_of(layout);
  return size.width <= box.width + kHair && size.height <= box.height + kHair;
}

// The same, with no more lines than the text itself has.
bool stands_unbroken(PangoLayout* layout, const Box& box) {
  if (!fits(layout, box)) return false;
  const std::string_view text = pango_layout_get_text(layout);
  const auto own = 1 + std::count(text.begin(), text.end(), '\n');
  return pango_layout_get_line_count(layout) <= own;
}

// At its smallest and still too long: broken anywhere, then shortened.
bool shorten(PangoLayout* layout, const Box& box) {
  pango_layout_set_wrap(layout, PANGO_WRAP_WORD_CHAR);
  if (size_of(layout).height <= box.height + kHair) return false;
  pango_layout_set_ellipsize(layout, PANGO_ELLIPSIZE_END);
  pango_layout_set_height(layout, static_cast<int>(box.height * PANGO_SCALE));
  return pango_layout_is_ellipsized(layout) != FALSE;
}

}  // namespace

Paper::Paper(std::unique_ptr<Inside> inside) : inside_(std::move(inside)) {}
Paper::Paper(Paper&&) noexcept = default;
Paper& Paper::operator=(Paper&&) noexcept = default;
Paper::~Paper() = default;

Paper::Paper(const std::filesystem::path& file, PaperKind kind, Size page, sensors::Instant made_at)
    : inside_(std::make_unique<Inside>()) {
  inside_->file = file;
  inside_->kind = kind;
  inside_->page = page;
  inside_->begin(sensors::to_string(made_at));
}

Paper Paper::svg_text(Size page) {
  auto inside = std::make_unique<Inside>();
  inside->page = page;
  inside->begin("");
  return Paper(std::move(inside));
}

Size Paper::page() const {
  return inside_->page;
}
int Paper::pages() const {
  return inside_->pages;
}
std::string Paper::svg() const {
  return inside_->bytes;
}
int Paper::letters_without_font() const {
  return inside_->without_font;
}

void Paper::next_page() {
  if (inside_->kind != PaperKind::pdf) {
    throw sensors::Refused({"one-page-only", "this needs more than one page", "",
                            inside_->file.string(), "a PDF holds many: name it .pdf"});
  }
  cairo_show_page(inside_->drawing.get());
  ++inside_->pages;
}

void Paper::finish() {
  inside_->check(cairo_status(inside_->drawing.get()));
  inside_->drawing.reset();
  if (inside_->kind == PaperKind::png) {
    inside_->check(
        cairo_surface_write_to_png_stream(inside_->surface.get(), &keep_bytes, &inside_->bytes));
  }
  cairo_surface_finish(inside_->surface.get());
  inside_->check(cairo_surface_status(inside_->surface.get()));
  if (!inside_->file.empty()) inside_->write_file();
}

Fit Paper::text(const Box& box, std::string_view text, const TextStyle& style) {
  // On one line a little smaller, rather than broken; else broken, as large as it goes.
  const double least_on_one = std::max(style.smallest_pt, style.size_pt * kOneLine);
  double size = style.size_pt;
  Layout layout = inside_->layout(text, style, size);
  while (!stands_unbroken(layout.get(), box) && size * kShrink >= least_on_one) {
    size *= kShrink;
    layout = inside_->layout(text, style, size);
  }
  if (!stands_unbroken(layout.get(), box)) {
    size = style.size_pt;
    layout = inside_->layout(text, style, size);
  }
  while (!fits(layout.get(), box) && size > style.smallest_pt) {
    size = std::max(style.smallest_pt, size * kShrink);
    layout = inside_->layout(text, style, size);
  }
  const bool shortened = !fits(layout.get(), box) && shorten(layout.get(), box);
  const double left = box.height - size_of(layout.get()).height;
  const double drop = style.down == Down::top ? 0 : style.down == Down::middle ? left / 2 : left;
  inside_->ink(style.shade);
  cairo_move_to(inside_->drawing.get(), box.x, box.y + drop);
  pango_cairo_show_layout(inside_->drawing.get(), layout.get());
  inside_->without_font += pango_layout_get_unknown_glyphs_count(layout.get());
  return shortened ? Fit::shortened : Fit::whole;
}

double Paper::text_width(std::string_view text, const TextStyle& style) const {
  return size_of(inside_->layout(text, style, style.size_pt).get()).width;
}

void Paper::line(Spot from, Spot to, double width, Shade shade) {
  const Spot both[] = {from, to};
  lines(both, width, shade);
}

void Paper::lines(std::span<const Spot> spots, double width, Shade shade, bool dashed) {
  if (spots.size() < 2) return;
  cairo_t* drawing = inside_->drawing.get();
  inside_->ink(shade);
  cairo_set_line_width(drawing, width);
  cairo_set_line_join(drawing, CAIRO_LINE_JOIN_ROUND);
  constexpr double kDash[] = {1.2, 0.8};
  cairo_set_dash(drawing, kDash, dashed ? 2 : 0, 0);
  cairo_move_to(drawing, spots[0].x, spots[0].y);
  for (const Spot& spot : spots.subspan(1)) cairo_line_to(drawing, spot.x, spot.y);
  cairo_stroke(drawing);
}

void Paper::frame(const Box& box, double width, Shade shade) {
  inside_->ink(shade);
  cairo_set_line_width(inside_->drawing.get(), width);
  cairo_set_dash(inside_->drawing.get(), nullptr, 0, 0);
  cairo_rectangle(inside_->drawing.get(), box.x, box.y, box.width, box.height);
  cairo_stroke(inside_->drawing.get());
}

void Paper::fill(const Box& box, Shade shade) {
  inside_->ink(shade);
  cairo_rectangle(inside_->drawing.get(), box.x, box.y, box.width, box.height);
  cairo_fill(inside_->drawing.get());
}

void Paper::dot(Spot centre, double radius, Shade shade) {
  inside_->ink(shade);
  cairo_new_path(inside_->drawing.get());  // else a line leads here from where text was begun
  cairo_arc(inside_->drawing.get(), centre.x, centre.y, radius, 0, 2 * std::numbers::pi);
  cairo_fill(inside_->drawing.get());
}

void Paper::code(const Box& box, std::string_view text) {
  const std::string whole(text);
  const std::unique_ptr<QRcode, CodeFree> code(
      QRcode_encodeString(whole.c_str(), 0, QR_ECLEVEL_M, QR_MODE_8, 1));
  if (!code) throw sensors::Refused({"too-long", "too long for a code", "", whole, ""});
  const int modules = code->width + 2 * kQuiet;
  const double module = std::min(box.width, box.height) / modules;
  inside_->ink(kBlack);
  for (int row = 0; row < code->width; ++row) {
    for (int column = 0; column < code->width; ++column) {
      if ((code->data[row * code->width + column] & 1) == 0) continue;
      cairo_rectangle(inside_->drawing.get(), box.x + (column + kQuiet) * module,
                      box.y + (row + kQuiet) * module, module, module);
    }
  }
  cairo_set_antialias(inside_->drawing.get(), CAIRO_ANTIALIAS_NONE);
  cairo_fill(inside_->drawing.get());
  cairo_set_antialias(inside_->drawing.get(), CAIRO_ANTIALIAS_DEFAULT);
}

void Paper::begin_turned(const Box& box) {
  cairo_save(inside_->drawing.get());
  cairo_translate(inside_->drawing.get(), box.x, box.y + box.height);
  cairo_rotate(inside_->drawing.get(), -std::numbers::pi / 2);
}

void Paper::end_turned() {
  cairo_restore(inside_->drawing.get());
}

}  // namespace takehold::client
