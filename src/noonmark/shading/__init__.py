"""What stands between the sky and a window: sunlit share and view factors."""
