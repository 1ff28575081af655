#include "pictures.h"

#include "fadewright/app/requests_schema.h"
#include "fadewright/base/base64.h"
#include "fadewright/colour/profile.h"
#include "fadewright/render/form.h"
#include "fadewright/render/frame.h"
#include "fadewright/render/png.h"
#include "fadewright/report/shown.h"
#include "fadewright/serve/serve.h"
#include "veil.h"

#include <fmt/core.h>

#include <glib.h>

#include <algorithm>
#include <chrono>

namespace fadewright::serve {
namespace {

constexpr int kSmallest_px = 32;
constexpr int kUsual_px = 1280;
constexpr int kStepHigh_px = 96, kStepHighest_px = 400;

// What the page asked to see, made out of the plan that is laid.
struct Wanted {
    plan::Job job;
    colour::Light light;
    render::PreviewSettings settings;
    std::optional<Veil> veil;
    std::size_t veil_first = 0, veil_last = 0;
};

// Coats as the plan writes them, to those that are laid for them.
void lift_out(Wanted& wanted, const InWork& work, const Json& without) {
    std::vector<std::size_t> lifted;
    for (const Json& index : without)
        if (index.is_number_unsigned() && index.get<std::size_t>() < work.plan->coats.size())
            lifted.push_back(index.get<std::size_t>());
    std::sort(lifted.rbegin(), lifted.rend());
    lifted.erase(std::unique(lifted.begin(), lifted.end()), lifted.end());
    for (const std::size_t index : lifted) {
        const InWork::Coats laid = work.laid_for(index);
        auto& coats = wanted.job.coats;
        if (laid.last > coats.size()) continue;  // not on yet
        coats.erase(coats.begin() + static_cast<std::ptrdiff_t>(laid.first),
                    coats.begin() + static_cast<std::ptrdiff_t>(laid.last));
    }
}

std::optional<Answer> read_view(const InWork& work, const Asked& asked, Wanted& wanted) {
    const std::optional<colour::Light> light = light_for(work, asked.text("light"));
    if (!light) return refuse(400, fmt::format("no light is called '{}'", asked.text("light")));
    wanted.light = *light;
    if (const std::string angle = asked.text("angle"); !angle.empty()) {
        Diagnostics mistakes;
        const auto degrees = read_quantity(angle, {}, units_of<Degrees>(), mistakes);
        if (!degrees || *degrees < -15 || *degrees > 110)
            return refuse(400, fmt::format("'{}' is not an angle", angle), "from -15 deg to 110 deg");
        wanted.settings.viewing = render::instrument(Degrees{*degrees});
    }
    const std::string form = asked.text("form", "panel");
    const auto& forms = Names<render::Form>::list;
    const auto known =
        std::find_if(forms.begin(), forms.end(), [&](const auto& f) { return f.second == form; });
    if (known == forms.end()) return refuse(400, fmt::format("no form is called '{}'", form));
    if (known->first != render::Form::panel) {
        wanted.job = render::on_form(wanted.job, known->first);
        wanted.settings.viewing = render::on_body();
    }
    return std::nullopt;
}

std::optional<Answer> read_veil(const InWork& work, const Asked& asked, Wanted& wanted) {
    const std::string name = asked.text("veil");
    if (name.empty()) return std::nullopt;
    wanted.veil = veil_called(name);
    if (!wanted.veil)
        return refuse(400, fmt::format("no veil is called '{}'", name), "film, faults or grain");
    wanted.veil_last = wanted.job.coats.size();
    if (const auto coat = asked.whole("coat");
        coat && *coat >= 0 && static_cast<std::size_t>(*coat) < work.plan->coats.size()) {
        const InWork::Coats laid = work.laid_for(static_cast<std::size_t>(*coat));
        wanted.veil_first = std::min(laid.first, wanted.job.coats.size());
        wanted.veil_last = std::min(laid.last, wanted.job.coats.size());
    }
    return std::nullopt;
}

std::optional<Answer> read_wanted(const InWork& work, const Asked& asked, Wanted& wanted) {
    wanted.job = *work.job;
    wanted.settings.longest_px = static_cast<int>(
        std::clamp<long>(asked.whole("size").value_or(kUsual_px), kSmallest_px, kMostPicture_px));
    if (const auto after = asked.whole("after"); after && *after >= 0) {
        const auto written = std::min(static_cast<std::size_t>(*after), work.plan->coats.size());
        wanted.job.coats.resize(written == 0 ? 0 : work.laid_for(written - 1).last);
    }
    if (auto wrong = read_veil(work, asked, wanted)) return wrong;
    if (const auto without = asked.body.find("without"); without != asked.body.end() && without->is_array())
        lift_out(wanted, work, *without);
    if (asked.truth("before_clear")) wanted.job = render::before_clear(std::move(wanted.job));
    return read_view(work, asked, wanted);
}

std::string percent_encoded(const std::string& text) {
    const std::unique_ptr<char, decltype(&g_free)> escaped(g_uri_escape_string(text.c_str(), " ", FALSE),
                                                           &g_free);
    return escaped.get();
}

render::PngNotes notes_for(bool wide) {
    static const colour::OutputProfile srgb = colour::OutputProfile::srgb(),
                                       p3 = colour::OutputProfile::display_p3();
    const colour::OutputProfile& profile = wide ? p3 : srgb;
    render::PngNotes notes;
    notes.icc = profile.icc_bytes();
    notes.icc_name = profile.name();
    return notes;
}

Answer superseded() {
    return answer({{"superseded", true}, {"refused", "a newer picture was asked for"}}, 409);
}

}  // namespace

Pictures::Easel::Easel()
    : full(colour::OutputProfile::srgb()),
      draft(colour::OutputProfile::srgb()),
      wide(colour::OutputProfile::display_p3()) {}

// Pages that were not heard of for longest make room.
std::shared_ptr<Pictures::Easel> Pictures::easel_of(const std::string& page) {
    const std::lock_guard lock(lock_);
    std::shared_ptr<Easel>& easel = easels_[page];
    if (!easel) easel = std::make_shared<Easel>();
    easel->used = ++uses_;
    std::shared_ptr<Easel> found = easel;
    if (easels_.size() > kMostPages)
        easels_.erase(std::min_element(easels_.begin(), easels_.end(), [](const auto& a, const auto& b) {
            return a.second->used < b.second->used;
        }));
    return found;
}

Answer Pictures::picture(Desk& desk, const Asked& asked) {
    const auto begin = std::chrono::steady_clock::now();
    const std::shared_ptr<Easel> easel = easel_of(asked.page);
    // Questions may arrive in another order than they were asked in: a page that counts them says which is newest.
    const std::uint64_t ticket = asked.turn ? *asked.turn : ++easel->newest;
    for (std::uint64_t newest = easel->newest; newest < ticket;)
        if (easel->newest.compare_exchange_weak(newest, ticket)) break;
    const auto newer = [&] { return easel->newest > ticket; };
    const std::lock_guard painting(easel->painting);
    if (newer()) return superseded();
    const std::shared_ptr<const InWork> work = desk.work(asked);
    if (!work->job) return not_in_order(*work);
    Wanted wanted;
    if (auto wrong = read_wanted(*work, asked, wanted)) return *std::move(wrong);
    wanted.settings.exposure = render::exposure_without_glare(wanted.job, wanted.light, wanted.settings);
    const bool draft = asked.truth("draft");
    const render::Frame frame =
        render::framed(wanted.job.panel, wanted.settings.longest_px, wanted.settings.margin);
    std::string note;
    if (wanted.settings.exposure < 1)
        note = fmt::format("shown {:.2f} times as bright as it is, or the flakes would be white",
                           wanted.settings.exposure);
    const bool wide = asked.truth("wide_gamut") && !draft && !wanted.veil;
    render::Redraw& redraw = draft ? easel->draft : wide ? easel->wide : easel->full;
    const render::Preview* shown = redraw.show(wanted.job, wanted.light, wanted.settings, newer);
    if (!shown) return superseded();
    Picture picture = shown->picture;
    if (wanted.veil) {
        Veiled laid = veiled(std::move(picture), *wanted.veil, wanted.job, wanted.light, frame,
                             wanted.veil_first, wanted.veil_last);
        picture = std::move(laid.picture);
        note = laid.note;
    }
    Answer out;
    out.type = "image/png";
    out.body = render::png_bytes(picture, notes_for(wide));
    const std::chrono::duration<double, std::milli> took = std::chrono::steady_clock::now() - begin;
    out.headers = {{"Bench-Frame", fmt::format("{} {} {} {} {}", frame.left_mm, frame.top_mm, frame.mm_per_px,
                                               frame.width, frame.height)},
                   {"Bench-Took", fmt::format("{:.1f}", took.count())},
                   {"Bench-Note", percent_encoded(note)}};
    return out;
}

// The panel after no coat, after the first, and so on, as the plan writes its coats.
Answer Pictures::strip(Desk& desk, const Asked& asked, Errand& errand) {
    const std::shared_ptr<const InWork> work = desk.work(asked);
    if (!work->job) return not_in_order(*work);
    const std::optional<colour::Light> light = light_for(*work, asked.text("light"));
    if (!light) return refuse(400, fmt::format("no light is called '{}'", asked.text("light")));
    const plan::Job& job = *work->job;
    const double high = static_cast<double>(
        std::clamp<long>(asked.whole("height").value_or(kStepHigh_px), kSmallest_px, kStepHighest_px));
    render::PreviewSettings settings;
    settings.margin = Millimetres{0.0};
    const double across = job.panel.width / job.panel.height;
    settings.longest_px =
        static_cast<int>(std::min<double>(kStepHighest_px * 2, high * std::max(1.0, across)));
    render::Redraw redraw(colour::OutputProfile::srgb());  // coats that lie keep their films
    Json steps = Json::array();
    const std::size_t coats = work->plan->coats.size();
    for (std::size_t after = 0; after <= coats; ++after) {
        settings.coats = after == 0 ? 0 : work->laid_for(after - 1).last;
        const auto step = 1 / static_cast<double>(coats + 1), begun = static_cast<double>(after) * step;
        const render::Preview* shown =
            redraw.show(job, *light, settings, errand.watched().piece(begun, begun + step));
        if (!shown) return was_stopped();
        steps.push_back(
            {{"after", after},
             {"name", after == 0 ? "ground" : work->plan->coats[after - 1].name},
             {"picture", "data:image/png;base64," + base64(render::png_bytes(shown->picture, {}))}});
    }
    return answer({{"steps", steps}});
}

}  // namespace fadewright::serve
