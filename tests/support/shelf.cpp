#include "shelf.h"

#include "published.h"

#include <filesystem>
#include <fstream>
#include <list>
#include <sstream>
#include <stdexcept>

namespace fadewright::test {
namespace {

std::string whole(const std::filesystem::path& path) {
    std::ifstream in(path, std::ios::binary);
    if (!in) throw std::runtime_error("cannot read " + path.string());
    std::stringstream text;
    text << in.rdbuf();
    return text.str();
}

}  // namespace

std::uint64_t seed_of(const std::string& name) {
    std::uint64_t seed = 1;
    for (const char c : name) seed = seed * 131 + static_cast<unsigned char>(c);
    return seed;
}

plan::Shelf preset_shelf() {
    namespace fs = std::filesystem;
    const fs::path root = source_path("presets");
    std::list<std::string> kept;  // the views below point into it until the shelf has made its copies
    std::vector<EmbeddedFile> files;
    for (const fs::directory_entry& entry : fs::recursive_directory_iterator(root)) {
        if (entry.path().extension() != ".toml" && entry.path().extension() != ".svg") continue;
        const std::string& path = kept.emplace_back(entry.path().lexically_relative(root).generic_string());
        const std::string& text = kept.emplace_back(whole(entry.path()));
        files.push_back({path, text});
    }
    return plan::Shelf::open(files, "").value();
}

plan::Job job_of(const std::string& plan_text) {
    Diagnostics diagnostics;
    plan::Shelf shelf = preset_shelf();
    const auto plan = plan::read_plan(std::make_shared<Source>("test.toml", plan_text), diagnostics);
    std::optional<plan::Job> job;
    if (plan) job = plan::ready_job(*plan, plan_text, shelf, diagnostics);
    if (!job) throw std::runtime_error("the plan is wrong:\n" + to_text(diagnostics));
    return std::move(*job);
}

plan::Job job_of_file(const std::string& below) { return job_of(whole(source_path(below))); }

}  // namespace fadewright::test
